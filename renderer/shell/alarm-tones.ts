/** Two tones in turn, hertz: far enough apart to be told from a fan's whine, and within what worn ears hear well. */
const tones = [880, 1320] as const;
/** Length of each tone, seconds. */
const toneS = 0.35;

export interface AlarmTones {
  /** To be called at each touch and key: browsers let a page sound only after the user has touched it. */
  unlock: () => void;
  /** Sounds the tones in turn until the function that it returns is called. */
  begin: () => () => void;
}

/** The tones of an alarm. Between alarms the audio rests: while it runs, it keeps the computer busy and its loudspeaker open, silent or not. */
export function createAlarmTones(createContext: () => AudioContext): AlarmTones {
  let context: AudioContext | undefined;
  let isUnlocked = false;
  let sounding = 0;

  const rest = () => {
    if (sounding === 0) void context?.suspend();
  };
  const wake = async () => {
    context ??= createContext();
    await context.resume();
    isUnlocked = true;
    rest();
  };
  const sound = (tone: number) => {
    if (!context) return;
    const oscillator = context.createOscillator();
    const gain = context.createGain();
    oscillator.frequency.value = tone;
    // Begins and ends softly: a click would sound like a fault of the loudspeaker.
    const start = context.currentTime;
    gain.gain.setValueAtTime(0, start);
    gain.gain.linearRampToValueAtTime(0.6, start + 0.02);
    gain.gain.setValueAtTime(0.6, start + toneS - 0.04);
    gain.gain.linearRampToValueAtTime(0, start + toneS);
    oscillator.connect(gain).connect(context.destination);
    oscillator.start(start);
    oscillator.stop(start + toneS);
  };

  return {
    unlock() {
      if (!isUnlocked || sounding > 0) void wake();
    },
    begin() {
      sounding += 1;
      void wake();
      let turn = 0;
      const next = () => sound(tones[turn++ % tones.length]!);
      next();
      const timer = setInterval(next, toneS * 1000);
      return () => {
        clearInterval(timer);
        sounding -= 1;
        // The last tone still ends softly.
        setTimeout(rest, 2 * toneS * 1000);
      };
    },
  };
}
