import { describe, expect, it } from 'vitest';
import { createBurstDetector } from '../../../electron/host/acquire/meter/bursts.ts';
import { testFolder } from '../../helpers/test-folder.ts';
import { wait } from '../../helpers/wait-until.ts';
import { openTestHost, neverAborted } from '../test-host.ts';

/** The burst detected after lines at these times, all of one channel. */
const after = (times: number[], channels: (i: number) => string[] = () => ['pilot_pressure']) => {
  const detector = createBurstDetector();
  times.forEach((atMs, i) => detector.add(atMs, channels(i)));
  return detector.current();
};

/** Five lines within 8 ms, every second. */
const bursts = (seconds: number) =>
  Array.from({ length: seconds }, (_, s) => [0, 2, 4, 6, 8].map((ms) => 1000 * s + ms)).flat();

describe('a meter that gathers its lines and sends them together', () => {
  it('is detected when it does so again and again, with the silence by which its times may be wrong', () => {
    expect(after(bursts(3))).toBeUndefined();
    expect(after(bursts(6))).toEqual({ lines: 5, delayS: 0.992 });
  });
  it('is not one that sends each line as it comes, fast or slow', () => {
    for (const everyMs of [1, 10, 100, 2000])
      expect(after(Array.from({ length: 500 }, (_, i) => i * everyMs))).toBeUndefined();
  });
  it('is not one behind an adapter that delivers sixteen lines every 16 ms', () => {
    expect(after(Array.from({ length: 3000 }, (_, i) => 16 * Math.floor(i / 16)))).toBeUndefined();
  });
  it('is not one that prints each of its channels on a line of its own', () => {
    const each = ['pilot_pressure', 'fan_pressure', 'flame_signal', 'damper_position', 'ignition'];
    expect(after(bursts(20), (i) => [each[i % 5] as string])).toBeUndefined();
  });
  it('is not one on a computer that was busy once', () => {
    const regular = Array.from({ length: 100 }, (_, i) => i * 50);
    expect(after(regular.map((ms) => (ms > 1000 && ms < 1800 ? 1800 : ms)))).toBeUndefined();
  });
  it('is no longer reported once it sends each line at once', () => {
    const regular = Array.from({ length: 20 }, (_, i) => 6000 + i * 100);
    expect(after([...bursts(6), ...regular])).toBeUndefined();
  });
});

it('the state of such a meter says how inaccurate its times are', async () => {
  let nowMs = 0;
  const clock = { monotonicMs: () => nowMs, wallMs: () => 1_700_000_000_000 + nowMs };
  const { host, send } = await openTestHost(testFolder(), { clock });
  for (let s = 0; s < 6; s += 1) {
    nowMs = 1000 * s;
    send('1.0\n1.1\n1.2\n1.3\n');
    await wait(80);
  }
  for await (const [meter] of host.handlers['meters.live']({}, neverAborted)) {
    expect(meter).toMatchObject({ status: 'live', fault: { code: 'meter-bursts', facts: { lines: 4, seconds: 1 } } });
    expect(meter?.fault?.message).toContain('their times are good to 1 s at best');
    break;
  }
});
