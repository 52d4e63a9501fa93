import { useEffect } from 'react';

/** Two tones in turn, hertz: far enough apart to be told from a fan's whine, and within what worn ears hear well. */
const tones = [880, 1320] as const;
/** Length of each tone, seconds. */
const toneS = 0.35;

let context: AudioContext | undefined;

/** Browsers let a page sound only after the user has touched it: the first touch or key opens the way. */
function unlock(): void {
  context ??= new AudioContext();
  void context.resume();
}
for (const event of ['pointerdown', 'keydown'] as const) window.addEventListener(event, unlock);

/** Sounds the alarm while `on`, until it is over or muted. */
export function useAlarmSound(on: boolean): void {
  useEffect(() => {
    if (!on) return undefined;
    unlock();
    let turn = 0;
    const sound = () => {
      if (!context) return;
      const oscillator = context.createOscillator();
      const gain = context.createGain();
      oscillator.frequency.value = tones[turn % tones.length]!;
      turn += 1;
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
    sound();
    const timer = setInterval(sound, toneS * 1000);
    return () => clearInterval(timer);
  }, [on]);
}
