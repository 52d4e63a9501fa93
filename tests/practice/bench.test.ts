import { describe, expect, it } from 'vitest';
import { type Deeds, playBench, valuesOf } from './bench-story.ts';

/** Fan-only pressure of the good burner, inH2O. Its screw stands where the pilot gets between 2 and 3 inH2O. */
const fanOnly = 0.2;
const short = { settings: { prepurgeS: 10, postpurgeS: 5 } };
const withControl = (seconds: number, deeds: Deeds, seed = 7) => playBench({ seed, hasControl: true }, seconds, deeds);
const byHand = (seconds: number, deeds: Deeds, seed = 7) => playBench({ seed, hasControl: false }, seconds, deeds);
const stateAt = ({ states }: ReturnType<typeof playBench>, s: number) => states[Math.round(s * 10)]!;

describe('the bench under its burner control', () => {
  it('starts with the pilot held by the test switch', () => {
    const state = stateAt(withControl(5, []), 5);
    expect(state).toMatchObject({ hasControl: true, callForHeat: true, testSwitch: 'hold-pilot', flame: true });
    expect(state).toMatchObject({ sequence: 'pilot-hold', pilotValve: true, fan: true, spark: false });
  });
  it('goes through a whole cycle: off, purged, lit, held', () => {
    // Off at 10 s: postpurge to 15 s. On at 12 s: prepurge from 15 s to 25 s, then the trial.
    const story = withControl(40, [[0, short], [10, { callForHeat: false }], [12, { callForHeat: true }]]); // prettier-ignore
    expect(stateAt(story, 11)).toMatchObject({ sequence: 'postpurge', pilotValve: false, fan: true, flame: false });
    expect(stateAt(story, 20.5)).toMatchObject({ sequence: 'prepurge', secondsLeft: 5 });
    expect(stateAt(story, 25.2)).toMatchObject({ sequence: 'pilot-trial', pilotValve: true, spark: true });
    expect(stateAt(story, 39)).toMatchObject({ sequence: 'pilot-hold', flame: true, spark: false });
    for (const pressure of valuesOf(story, 'pilot_pressure', 13, 25))
      expect(Math.abs(pressure - fanOnly)).toBeLessThan(0.05);
    for (const pressure of valuesOf(story, 'pilot_pressure', 27, 40)) expect(pressure).toBeGreaterThan(2);
  });
  it('shuts the valve 4 s after the flame was blown off, and locks out', () => {
    const story = withControl(30, [[10, { blowOff: true }]]);
    expect(stateAt(story, 10.1).flame).toBe(false);
    expect(stateAt(story, 13.9)).toMatchObject({ sequence: 'pilot-hold', pilotValve: true });
    expect(stateAt(story, 14.1)).toMatchObject({ sequence: 'lockout', pilotValve: false });
    // The fan purges for 15 s more.
    for (const pressure of valuesOf(story, 'pilot_pressure', 16, 29))
      expect(Math.abs(pressure - fanOnly)).toBeLessThan(0.05);
  });
  it('with the test switch jumpered lets gas flow unlit for as long as it is left to', () => {
    const story = withControl(200, [[0, { jumpered: true }], [10, { blowOff: true }]]); // prettier-ignore
    expect(stateAt(story, 199)).toMatchObject({ sequence: 'pilot-hold', pilotValve: true, flame: false });
    for (const pressure of valuesOf(story, 'pilot_pressure', 12, 200)) expect(pressure).toBeGreaterThan(2);
    for (const signal of valuesOf(story, 'flame_signal', 20, 200).filter(Number.isFinite))
      expect(signal).toBeLessThan(0.1);
  });
  it('leaves valve, spark and fan to the control, whatever is done by hand', () => {
    const story = withControl(5, [[1, { pilotValve: false, spark: true, fan: false }]]);
    expect(stateAt(story, 5)).toMatchObject({ pilotValve: true, spark: false, fan: true });
  });
  it('does not take the self-check of a detector for a lost flame, even with the fastest response', () => {
    const story = playBench({ scenario: 'self-check', seed: 3, hasControl: true }, 120, [
      [0, { settings: { flameFailureS: 1 } }],
    ]);
    expect(story.states.every(({ sequence }) => sequence === 'pilot-hold')).toBe(true);
    // The pulses are there: the signal of 4.6 V falls to e^(-0.5 s / 0.35 s) of it, 1.1 V, and a little less on the meter.
    expect(Math.min(...valuesOf(story, 'flame_signal', 0, 120).filter(Number.isFinite))).toBeLessThan(4.6 / 2);
  });
  it('takes no setting that no control has', () => {
    const wild = { prepurgeS: -1, trialS: Number.NaN, flameFailureS: 60, sparkDelayS: 5 };
    const { settings } = stateAt(withControl(1, [[0, { settings: wild }]]), 1);
    expect(settings).toMatchObject({ prepurgeS: 5, trialS: 10, flameFailureS: 4, sparkDelayS: 5 });
  });
});

it('an action changes nothing that it does not name, and nothing that it names without a value', () => {
  const [before, after] = [[], [[1, { turns: undefined, valve: undefined, testSwitch: undefined }]]].map(
    (deeds) => stateAt(withControl(2, deeds as unknown as Deeds), 2), // prettier-ignore
  );
  expect(after).toEqual(before);
});

describe('the bench by hand, without a control', () => {
  it('has no safeguard: gas flows on when the flame is blown off, until the valve is shut', () => {
    const story = byHand(100, [[10, { blowOff: true }], [80, { pilotValve: false }]]); // prettier-ignore
    expect(stateAt(story, 79)).toMatchObject({ hasControl: false, pilotValve: true, flame: false });
    expect(stateAt(story, 90).pilotValve).toBe(false);
  });
  it('leaves everything as the control had it, when the control is taken away', () => {
    const story = withControl(10, [[5, { hasControl: false }]]);
    expect(stateAt(story, 9)).toMatchObject({ hasControl: false, pilotValve: true, fan: true, flame: true });
  });
  it('shuts gas when it is given to the control, which stands by until heat is called', () => {
    const story = byHand(10, [[5, { hasControl: true }]]);
    expect(stateAt(story, 9)).toMatchObject({ sequence: 'standby', callForHeat: false, pilotValve: false });
  });
});

describe('a faulty pilot valve', () => {
  it('that is stuck open keeps the pressure up and the pilot burning after it was told to shut', () => {
    const story = withControl(60, [[5, { valve: 'stuck-open' }], [10, { callForHeat: false }]]); // prettier-ignore
    expect(stateAt(story, 50)).toMatchObject({ sequence: 'standby', pilotValve: false, flame: true });
    for (const pressure of valuesOf(story, 'pilot_pressure', 10, 60)) expect(pressure).toBeGreaterThan(2);
  });
  it('that is stuck open makes the control refuse the next start, as it sees a flame', () => {
    const story = withControl(60, [
      [0, { ...short, valve: 'stuck-open' }],
      [10, { callForHeat: false }],
      [20, { callForHeat: true }],
    ]);
    expect(stateAt(story, 40).sequence).toBe('lockout');
  });
  it('that sticks while it is shut sticks only once it has opened', () => {
    const story = byHand(20, [[2, { pilotValve: false }], [8, { valve: 'stuck-open' }]]); // prettier-ignore
    for (const pressure of valuesOf(story, 'pilot_pressure', 9, 20))
      expect(Math.abs(pressure - fanOnly)).toBeLessThan(0.05);
  });
  it('that leaks leaves a small pressure above the fan-only one', () => {
    const story = withControl(60, [[0, { valve: 'leaking' }], [10, { callForHeat: false }]]); // prettier-ignore
    // A hole of a third of the nozzle's area: the square of that over 1 plus the square, a tenth of what stands before the valve.
    for (const pressure of valuesOf(story, 'pilot_pressure', 14, 24)) {
      expect(pressure).toBeGreaterThan(fanOnly + 0.15);
      expect(pressure).toBeLessThan(fanOnly + 0.45);
    }
    expect(stateAt(story, 20).flame).toBe(false);
  });
  it('that is sound again follows its command', () => {
    const story = byHand(30, [[1, { valve: 'stuck-open' }], [5, { pilotValve: false }], [15, { valve: 'sound' }]]); // prettier-ignore
    for (const pressure of valuesOf(story, 'pilot_pressure', 17, 30))
      expect(Math.abs(pressure - fanOnly)).toBeLessThan(0.05);
  });
});

describe('a faulty meter', () => {
  it.each(['manometer', 'multimeter'] as const)(
    'that is dead, the %s, sends nothing; the other one goes on',
    (meter) => {
      const story = byHand(20, [[10, { [meter]: 'dead' }]]);
      const [dead, sound] =
        meter === 'manometer'
          ? (['pilot_pressure', 'flame_signal'] as const)
          : (['flame_signal', 'pilot_pressure'] as const);
      expect(valuesOf(story, dead, 10.1, 20)).toEqual([]);
      expect(valuesOf(story, sound, 10.1, 20).length).toBeGreaterThan(40);
    },
  );
  it('that is frozen sends its last reading for ever, whatever the burner does', () => {
    const story = byHand(30, [[10, { multimeter: 'frozen' }], [15, { blowOff: true }]]); // prettier-ignore
    const frozen = valuesOf(story, 'flame_signal', 10.3, 30);
    expect(new Set(frozen).size).toBe(1);
    expect(frozen[0]).toBeGreaterThan(4);
    expect(frozen.length).toBeGreaterThan(90);
  });
  it('that is repaired shows what is so now', () => {
    const story = byHand(30, [[5, { multimeter: 'frozen' }], [10, { blowOff: true }], [20, { multimeter: 'sound' }]]); // prettier-ignore
    for (const signal of valuesOf(story, 'flame_signal', 20.5, 30).filter(Number.isFinite))
      expect(signal).toBeLessThan(0.1);
  });
});

describe('the port of fan pressure, spark and valve', () => {
  const story = withControl(60, [[0, short], [10, { callForHeat: false }], [12, { callForHeat: true }]]); // prettier-ignore
  const lines = (fromS: number, toS: number) =>
    story.airLines
      .filter(({ atS }) => atS >= fromS && atS < toS)
      .map(({ text }) => text.split(',').map(Number) as [number, number, number]);

  it('says ten times a second whether the spark is on and the valve is energized', () => {
    expect(lines(30, 40).length).toBeGreaterThan(95);
    // Postpurge and prepurge until 25 s; the trial; and held, well after it.
    expect(lines(11, 24.9).every(([, spark, valve]) => spark === 0 && valve === 0)).toBe(true);
    expect(lines(25.1, 25.4).every(([, spark, valve]) => spark === 1 && valve === 1)).toBe(true);
    expect(lines(35, 60).every(([, spark, valve]) => spark === 0 && valve === 1)).toBe(true);
  });
  it('shows air while the fan runs and none when it has run down', () => {
    for (const [fan] of lines(11, 60)) expect(fan).toBeGreaterThan(1);
    const off = withControl(60, [[0, short], [10, { callForHeat: false }]]); // prettier-ignore
    const last = off.airLines.at(-1)!.text.split(',').map(Number)[0]!;
    expect(Math.abs(last)).toBeLessThan(0.05);
  });
});
