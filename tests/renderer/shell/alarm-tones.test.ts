import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { createAlarmTones } from '../../../renderer/shell/alarm-tones.ts';

/** What the tones ask of the browser; `mayStart`: whether it lets the page sound. */
function fakeAudio() {
  const heard: number[] = [];
  const audio = { state: 'suspended', mayStart: true, made: 0 };
  const node = (): object => ({ connect: (to: object) => to });
  const context = {
    currentTime: 0,
    destination: node(),
    resume: async () => {
      if (!audio.mayStart) return new Promise<void>(() => {});
      audio.state = 'running';
      return undefined;
    },
    suspend: async () => void (audio.state = 'suspended'),
    createOscillator: () => {
      const oscillator = {
        ...node(),
        frequency: { value: 0 },
        start: () => void heard.push(oscillator.frequency.value),
        stop: () => {},
      };
      return oscillator;
    },
    createGain: () => ({ ...node(), gain: { setValueAtTime: () => {}, linearRampToValueAtTime: () => {} } }),
  };
  const tones = createAlarmTones(() => {
    audio.made += 1;
    return context as unknown as AudioContext;
  });
  return { audio, heard, tones };
}

beforeEach(() => void vi.useFakeTimers());
afterEach(() => void vi.useRealTimers());
const pass = (ms: number) => vi.advanceTimersByTimeAsync(ms);

describe('the tones of an alarm', () => {
  it('rest after the first touch, and sound without another touch', async () => {
    const { audio, heard, tones } = fakeAudio();
    tones.unlock();
    await pass(0);
    expect(audio).toMatchObject({ state: 'suspended', made: 1 });
    const stop = tones.begin();
    await pass(1000);
    expect(audio.state).toBe('running');
    expect(heard).toEqual([880, 1320, 880]);
    stop();
    await pass(2000);
    expect(heard).toHaveLength(3);
    expect(audio).toMatchObject({ state: 'suspended', made: 1 });
  });

  it('do not rest while another alarm has begun meanwhile', async () => {
    const { audio, tones } = fakeAudio();
    tones.begin()();
    const stop = tones.begin();
    await pass(5000);
    expect(audio.state).toBe('running');
    tones.unlock();
    await pass(5000);
    expect(audio.state).toBe('running');
    stop();
  });

  it('end the last tone before they rest', async () => {
    const { audio, tones } = fakeAudio();
    const stop = tones.begin();
    await pass(800);
    stop();
    await pass(300);
    expect(audio.state).toBe('running');
    await pass(1000);
    expect(audio.state).toBe('suspended');
  });

  it('begin with a touch where the page might not sound before', async () => {
    const { audio, tones } = fakeAudio();
    audio.mayStart = false;
    const stop = tones.begin();
    await pass(1000);
    expect(audio.state).toBe('suspended');
    audio.mayStart = true;
    tones.unlock();
    await pass(0);
    expect(audio.state).toBe('running');
    stop();
  });
});
