import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { createPracticePorts, type PracticePorts } from '../../../electron/host/acquire/ports/practice-ports.ts';
import { builtInProfile } from '../../../shared/instruments/built-in.ts';
import { createLineDecoder } from '../../../shared/instruments/decode.ts';
import { practicePorts } from '../../../shared/practice/bench-meters.ts';

let nowMs = 0;
let practice: PracticePorts;

/** Lets seconds pass on the bench's clock. */
const pass = (seconds: number) => {
  for (let i = 0; i < seconds * 50; i += 1) {
    nowMs += 20;
    vi.advanceTimersByTime(20);
  }
};
/** Opens a port; gives the lines that have come so far. */
async function listen(port: string): Promise<() => string[]> {
  let text = '';
  const onBytes = (bytes: Uint8Array) => void (text += Buffer.from(bytes).toString());
  const opened = await practice.open({ path: port, onBytes } as unknown as Parameters<PracticePorts['open']>[0]);
  expect(opened.ok).toBe(true);
  return () => text.split('\n').slice(0, -1);
}

beforeEach(() => {
  vi.useFakeTimers();
  nowMs = 0;
  practice = createPracticePorts({ monotonicMs: () => nowMs, wallMs: () => 0 });
});
afterEach(() => {
  practice.stop();
  vi.useRealTimers();
});

describe('the practice bench of a host', () => {
  it('starts under its burner control, with the pilot held, and keeps the kind of operation with another burner', () => {
    expect(practice.state()).toMatchObject({ hasControl: true, callForHeat: true });
    pass(0.1);
    expect(practice.state()).toMatchObject({ sequence: 'pilot-hold', flame: true });
    practice.act({ scenario: 'noisy' });
    expect(practice.state()).toMatchObject({ scenario: 'noisy', hasControl: true });
    practice.act({ hasControl: false });
    practice.act({ scenario: 'clean' });
    expect(practice.state()).toMatchObject({ scenario: 'clean', hasControl: false });
  });
  it('has a third port, which sends fan pressure, spark and valve as its profile reads them', async () => {
    const lines = await listen(practicePorts.air.port);
    pass(2);
    practice.act({ hasControl: false, spark: true, pilotValve: false });
    pass(2);
    const decode = createLineDecoder(builtInProfile(practicePorts.air.profile)!);
    const read = lines().map((line) => decode(line).map(({ role, value }) => [role, value] as const));
    expect(read.length).toBeGreaterThan(35);
    expect(read.flat().every(([, value]) => Number.isFinite(value))).toBe(true);
    expect(read[0]!.slice(1)).toEqual([['ignition', 0], ['pilot_valve', 1]]); // prettier-ignore
    expect(read.at(-1)!.slice(1)).toEqual([['ignition', 1], ['pilot_valve', 0]]); // prettier-ignore
    expect(read[0]![0]).toEqual(['fan_pressure', expect.closeTo(2.5, 1)]);
  });
  it('tells the page of each second of the sequence, and not of each step of the bench', () => {
    const before = practice.topic.version;
    practice.act({ callForHeat: false });
    pass(10.5);
    // The act, the postpurge, the flame going out, and ten seconds of the fifteen.
    expect(practice.topic.version - before).toBeGreaterThan(10);
    expect(practice.topic.version - before).toBeLessThan(16);
  });
});
