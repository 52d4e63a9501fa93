import { describe, expect, it } from 'vitest';
import type { ControlInputs, ControlSettings, ControlState } from '../../shared/practice/control.ts';
import { controlOutputs, nextControl, proveMs, startingControl, timeLeftS } from '../../shared/practice/control.ts';

const settings: ControlSettings = {
  prepurgeS: 30,
  trialS: 10,
  sparkDelayS: 0,
  flameFailureS: 2,
  postpurgeS: 15,
  onFlameFailure: 'lockout',
};
const idle: ControlInputs = { callForHeat: false, holdPilot: true, jumpered: false, flameSeen: false, reset: false };
/** What is changed at a time, in seconds; each change stands until the next. */
type Script = [atS: number, change: Partial<ControlInputs>][];

interface Played {
  /** Each state with the second at which it begins; the call for heat comes at 0. */
  states: [ControlState, number][];
  at(s: number): ReturnType<typeof controlOutputs> & { state: ControlState; leftS: number | undefined };
}

/** Plays a script in steps of a tenth of a second. A change at `s` is seen by the step that begins at `s`. */
function play(script: Script, untilS: number, change: Partial<ControlSettings> = {}): Played {
  const set = { ...settings, ...change };
  let memory = startingControl('standby');
  let inputs = idle;
  const states: [ControlState, number][] = [];
  const seen: ReturnType<Played['at']>[] = [];
  for (let tenth = 0; tenth < untilS * 10; tenth += 1) {
    for (const [atS, next] of script) if (Math.round(atS * 10) === tenth) inputs = { ...inputs, ...next };
    const before = memory.state;
    memory = nextControl(memory, inputs, set, 100);
    inputs = { ...inputs, reset: false };
    if (memory.state !== before) states.push([memory.state, tenth / 10]);
    seen.push({ ...controlOutputs(memory, set), state: memory.state, leftS: timeLeftS(memory, set) });
  }
  return { states, at: (s) => seen[Math.round(s * 10)]! };
}

const on: Script = [[0, { callForHeat: true }]];
/** Heat is called at 0, so that gas opens at 30 s; a flame is seen from 32 s on and proved a second later, at 33 s. */
const lit: Script = [...on, [32, { flameSeen: true }]];
const shut = { pilotValve: false, spark: false };

it('takes a flame as proved that it has seen for one second', () => expect(proveMs).toBe(1000));

describe('a start', () => {
  it('purges with the fan, then opens gas with the spark, and holds the pilot once the flame is proved', () => {
    const { states, at } = play(lit, 600);
    expect(states).toEqual([['prepurge', 0], ['pilot-trial', 30], ['pilot-hold', 33]]); // prettier-ignore
    expect(at(0)).toMatchObject({ fan: true, ...shut, leftS: 30 });
    expect(at(29.9)).toMatchObject({ fan: true, ...shut });
    expect(at(30)).toMatchObject({ fan: true, pilotValve: true, spark: true, leftS: 10 });
    expect(at(33)).toMatchObject({ fan: true, pilotValve: true, spark: false, leftS: undefined });
  });
  it('goes on to run when the test switch does not hold it, and does not come back to the pilot', () => {
    const { states, at } = play([...lit, [60, { holdPilot: false }], [70, { holdPilot: true }]], 90);
    expect(states.slice(2)).toEqual([['pilot-hold', 33], ['run', 60]]); // prettier-ignore
    expect(at(80)).toMatchObject({ pilotValve: true, spark: false });
    expect(play([...lit, [0, { holdPilot: false }]], 90).states[2]).toEqual(['run', 33]);
  });
  it('holds the spark back for as long as was chosen while gas flows', () => {
    const { at } = play([...on, [37, { flameSeen: true }]], 60, { sparkDelayS: 5 });
    expect(at(34.9)).toMatchObject({ state: 'pilot-trial', pilotValve: true, spark: false });
    expect(at(35)).toMatchObject({ pilotValve: true, spark: true });
    expect(at(38)).toMatchObject({ state: 'pilot-hold', spark: false });
  });
  it('is broken off when the call for heat ends: without a purge where no gas was on, with one where it was', () => {
    expect(play([...on, [12, { callForHeat: false }]], 60).states.slice(1)).toEqual([['standby', 12]]);
    const { states, at } = play([...on, [34, { callForHeat: false }]], 60);
    expect(states.slice(2)).toEqual([['postpurge', 34], ['standby', 49]]); // prettier-ignore
    expect(at(34)).toMatchObject({ fan: true, ...shut });
    expect(at(49)).toMatchObject({ fan: false, ...shut });
  });
  it('is refused by a flame that should not be there: it locks out before gas', () => {
    // Seen from 10 s on; the flame failure response time of 2 s later the control believes it.
    const { states, at } = play([...on, [10, { flameSeen: true }]], 60);
    expect(states).toEqual([['prepurge', 0], ['lockout', 12]]); // prettier-ignore
    expect(at(50)).toMatchObject(shut);
  });
});

describe('a trial without a flame', () => {
  it('shuts gas and spark at its end, locks out, and purges', () => {
    const { states, at } = play(on, 120);
    expect(states).toEqual([['prepurge', 0], ['pilot-trial', 30], ['lockout', 40]]); // prettier-ignore
    expect(at(39.9)).toMatchObject({ pilotValve: true, spark: true });
    expect(at(40)).toMatchObject({ fan: true, ...shut });
    expect(at(54.9).fan).toBe(true);
    expect(at(55).fan).toBe(false);
  });
  it('proves a flame whose second is over as the trial ends, and none that comes later', () => {
    expect(play([...on, [39, { flameSeen: true }]], 60).states[2]).toEqual(['pilot-hold', 40]);
    expect(play([...on, [39.2, { flameSeen: true }]], 60).states[2]).toEqual(['lockout', 40]);
  });
  it('does not take flashes of less than a second for a flame', () => {
    const flashes: Script = [31, 33, 35, 37].flatMap((s): Script => [
      [s, { flameSeen: true }],
      [s + 0.9, { flameSeen: false }],
    ]);
    expect(play([...on, ...flashes], 60).states[2]).toEqual(['lockout', 40]);
  });
});

describe('a lost flame', () => {
  const lost: Script = [...lit, [60, { flameSeen: false }]];

  it.each([1, 2, 4])('shuts the valve after the response time of %i s', (flameFailureS) => {
    const { states, at } = play(lost, 120, { flameFailureS });
    expect(states.at(-1)).toEqual(['lockout', 60 + flameFailureS]);
    expect(at(60 + flameFailureS - 0.1).pilotValve).toBe(true);
    expect(at(60 + flameFailureS)).toMatchObject(shut);
  });
  it('in run does the same', () => {
    expect(play([...lost, [50, { holdPilot: false }]], 90).states.at(-1)).toEqual(['lockout', 62]);
  });
  it('that returns within the response time is none', () => {
    expect(play([...lost, [61.8, { flameSeen: true }]], 120).states.at(-1)).toEqual(['pilot-hold', 33]);
  });
  it('recycles where the control is of that kind: postpurge, prepurge, a new trial, and lockout when that fails', () => {
    expect(play(lost, 180, { onFlameFailure: 'recycle' }).states.slice(3)).toEqual([
      ['postpurge', 62],
      ['prepurge', 77],
      ['pilot-trial', 107],
      ['lockout', 117],
    ]);
  });
  it('with the test switch jumpered never shuts the valve, until the call for heat ends', () => {
    const { states, at } = play([...lost, [0, { jumpered: true }], [900, { callForHeat: false }]], 1000);
    expect(states.slice(2)).toEqual([['pilot-hold', 33], ['postpurge', 900], ['standby', 915]]); // prettier-ignore
    expect(at(899).pilotValve).toBe(true);
  });
  it('with the jumper taken off again shuts it at once, as the response time is long over', () => {
    const { states } = play([...lost, [0, { jumpered: true }], [300, { jumpered: false }]], 400);
    expect(states.at(-1)).toEqual(['lockout', 300]);
  });
});

describe('a lockout', () => {
  it('stays, whatever is called for, until it is reset by hand', () => {
    const calls: Script = [[100, { callForHeat: false }], [110, { callForHeat: true }]]; // prettier-ignore
    expect(play([...on, ...calls], 600).states.at(-1)).toEqual(['lockout', 40]);
  });
  it('after the reset starts with a whole prepurge where heat is called, else stands by', () => {
    expect(play([...on, [50, { reset: true }]], 85).states.slice(3)).toEqual([['prepurge', 50], ['pilot-trial', 80]]); // prettier-ignore
    const off: Script = [...on, [45, { callForHeat: false }], [50, { reset: true }]];
    expect(play(off, 100).states.slice(3)).toEqual([['standby', 50]]);
  });
  it('is not kept away by a reset that comes before it', () => {
    expect(play([...on, [35, { reset: true }]], 60).states.at(-1)).toEqual(['lockout', 40]);
  });
});
