import { describe, expect, it } from 'vitest';
import { advise } from '../../shared/advice/advise.ts';
import { met, situation, trial } from './situation.ts';

const limits = situation().limits;

describe('the plan at the setting comes first', () => {
  it('plain trials, then a delayed one with the shortest delay that counts, half of the trial for ignition', () => {
    expect(advise(situation())).toMatchObject({
      next: { pressure: 2.4, sparkDelay_s: 0 },
      stop: false,
      proof: { plainStillNeeded: 3, delayedStillNeeded: 1 },
    });
    expect(advise(situation({ trials: met.slice(0, 3) }))).toMatchObject({
      next: { pressure: 2.4, sparkDelay_s: 5 },
      proof: { plainStillNeeded: 0, delayedStillNeeded: 1 },
    });
  });
  it('no delayed spark without an agreed delay, or with one that is too short to count', () => {
    for (const longestDelayS of [undefined, 4.9]) {
      const { next, proof, notes } = advise(
        situation({
          trials: met.slice(0, 3),
          limits: { ...limits, longestDelayS },
        }),
      );
      expect(next?.sparkDelay_s).toBe(0);
      expect(proof.delayedStillNeeded).toBe(1);
      expect(notes.join(' ')).toContain('no longest delay');
    }
  });
  it.each([
    { name: 'as late as it, on a side', failed: trial(2, false, 5), asked: false },
    { name: 'earlier, on a side', failed: trial(2, false, 3), asked: false },
    { name: 'nobody knows how late', failed: { pressure: 2, unit: 'inH2O' as const, lit: false }, asked: false },
    { name: 'later than it', failed: trial(2, false, 7), asked: true },
    { name: 'at once', failed: trial(2, false, 0), asked: true },
  ])('no spark as late as one that failed: $name', ({ failed, asked }) => {
    const { next, notes } = advise(situation({ trials: [...met.slice(0, 3), failed] }));
    expect(next?.sparkDelay_s).toBe(asked ? 5 : 0);
    const told = notes.some((note) => /no (?:spark that late|delayed spark) is advised/u.test(note));
    expect(told).toBe(!asked);
  });
  it('a spark as late as one that failed only where one that late has lit at the setting since', () => {
    const asked = (trials: typeof met) =>
      advise(situation({ plan: { plain: 3, delayed: 2 }, trials })).next?.sparkDelay_s;
    expect(asked([trial(2, false, 5), ...met])).toBe(5);
    expect(asked([...met, trial(2, false, 5)])).toBe(0);
  });
  it('nothing at a setting that just failed, however many failures were agreed on the sides', () => {
    const agreed = { limits: { ...limits, mostFailures: 3 } };
    const failed = advise(situation({ ...agreed, trials: [...met.slice(0, 3), trial(2.4, false)] }));
    expect(failed).toMatchObject({ next: null, stop: true });
    expect(failed.reason).toContain('find out why');
    const litSince = advise(situation({ ...agreed, trials: [trial(2.4, false), trial(2.4)] }));
    expect(litSince.next).toMatchObject({ pressure: 2.4, sparkDelay_s: 0 });
  });
  it('no delayed spark between a failure on each side, however many were agreed', () => {
    const trials = [...met.slice(0, 3), trial(2, false), trial(3, false)];
    const { next } = advise(situation({ limits: { ...limits, mostFailures: 3 }, trials }));
    expect(next).toBeNull();
  });
  it('a claim of 90 % at 90 % needs 22 plain trials (success-run theorem), and is lost by one failure', () => {
    const plan = { probability: 0.9, confidence: 0.9, delayed: 1 };
    expect(advise(situation({ plan, trials: met.slice(0, 3) })).proof.plainStillNeeded).toBe(19);
    const lost = advise(situation({ plan, trials: [trial(2.4, false), ...met] }));
    expect(lost).toMatchObject({ next: null, stop: true });
    expect(lost.reason).toContain('claim');
    // No number of trials undoes the failure: the reason says so, and CONTRACTS has numbers here whatever happened.
    expect(lost.reason).toContain('no further trial there meets it');
    expect(lost.proof).toEqual({
      plainStillNeeded: expect.any(Number) as number,
      delayedStillNeeded: expect.any(Number) as number,
    });
  });
  it('begins at the setting where the plan asks for no trial there', () => {
    const { next } = advise(situation({ plan: { plain: 0, delayed: 0 }, trials: [] }));
    expect(next).toMatchObject({ pressure: 2.4, sparkDelay_s: 0 });
  });
  it('stops when it did not light there, and begins a new row once it was made to light again', () => {
    expect(advise(situation({ trials: [trial(2.4), trial(2.45, false)] }))).toMatchObject({ next: null, stop: true });
    expect(advise(situation({ trials: [trial(2.45, false), trial(2.4)] }))).toMatchObject({
      next: { pressure: 2.4 },
      proof: { plainStillNeeded: 2 },
    });
    // The new row counts, though one had failed there: then the delayed spark follows.
    expect(advise(situation({ trials: [trial(2.45, false), ...met.slice(0, 3)] })).next).toMatchObject({
      pressure: 2.4,
      sparkDelay_s: 5,
    });
  });
});

describe('then outward', () => {
  it('on the side where a step proves more, a quarter of the way to where it is taken to fail for sure', () => {
    // The flame holds to 3.95, 1.55 away, and to 1.25, 1.15 away: a quarter of 3.10 is 0.775, and of 2.30 is 0.575.
    const { next, candidates } = advise(situation({ trials: met }));
    expect(next).toMatchObject({ pressure: 3.17, sparkDelay_s: 0 });
    expect(candidates.map(({ side, pressure }) => [side, pressure])).toEqual(
      expect.arrayContaining([
        ['low', 1.83],
        ['high', 3.17],
      ]),
    );
    // The step, times the chance that it lights: 0.77 (1 - 0.77 / 3.10).
    expect(candidates[0]!.gain).toBeCloseTo(0.578742, 6);
  });
  it('no further on a side than that quarter, in however many steps, nor than any limit', () => {
    const done = advise(situation({ trials: [...met, trial(2.8), trial(3.17), trial(1.83)] }));
    expect(done).toMatchObject({ next: null, stop: true, shown: { low: 1.83, high: 3.17 } });
    expect(done.reason).toContain(
      'On the high side it lit out to 3.17 inH2O; nothing shows that it lights further out, where a trial is assumed to fail in more than one of four visits',
    );
    const near = advise(situation({ trials: met, limits: { ...limits, low: 2.1, high: 2.7 } }));
    expect(near.candidates.map(({ pressure }) => pressure)).toEqual(expect.arrayContaining([2.1, 2.7]));
  });
  // The window ends at 4.0, the sweep at 4.5 inH2O: beyond that end the flame may be lost.
  it('asks for a turn inward, not for a sweep, where the setting is beyond an end that was found', () => {
    const setting = { pressure: 4.7, tolerance: 0.1, words: 'the pressure as left' };
    const wide = { low: 0.5, high: 5, longestDelayS: 5, mostFailures: 1 };
    expect(advise(situation({ setting, limits: wide })).reason).toMatch(
      /outside the window, .* Set it inside first\./u,
    );
    // Where the window ends with the sweep, nobody knows what is beyond.
    const open = { low: 1.2, high: 4.5, guarded: { low: 1.25, high: 4.5 } };
    expect(advise(situation({ setting, limits: wide, window: open })).reason).toContain('Sweep there first.');
  });
  it('stops with a reason for each side when more trials change nothing there', () => {
    const done = advise(situation({ trials: [...met, trial(3.6), trial(1.5)] }));
    expect(done).toMatchObject({ next: null, stop: true, shown: { low: 1.5, high: 3.6 } });
    expect(done.reason).toMatch(/lit out to 1.50 inH2O.*lit out to 3.60 inH2O/u);
  });
  it('does not try a side that failed as often as agreed, and stays inside its failure where more was agreed', () => {
    const trials = [...met, trial(3, false)];
    expect(advise(situation({ trials })).next!.pressure).toBeLessThan(2.4);
    const twice = advise(situation({ trials, limits: { ...limits, mostFailures: 2 } }));
    for (const { side, pressure } of twice.candidates) if (side === 'high') expect(pressure).toBeLessThan(3);
  });
  it('counts nothing beyond a failure, and says that it contradicts', () => {
    const found = advise(situation({ trials: [...met, trial(2.8), trial(3, false), trial(3.4)] }));
    expect(found.shown.high).toBeCloseTo(2.8, 9);
    expect(found.notes.join(' ')).toContain('failed at 3.00 inH2O');
  });
  it('proves nothing by a flame that lit while the pressure moved, and is stopped by a failure all the same', () => {
    const far = trial(3.3);
    expect(advise(situation({ trials: [...met, far], moved: (each) => each === far })).shown.high).toBeUndefined();
    const failed = trial(3.3, false);
    const found = advise(situation({ trials: [...met, failed], moved: (each) => each === failed }));
    expect(found.candidates.every(({ side }) => side === 'low')).toBe(true);
  });
  it('counts nothing outward where a trial at the setting failed', () => {
    const found = advise(situation({ trials: [trial(3.3), trial(2.4, false), ...met] }));
    expect(found).toMatchObject({ next: null, stop: true });
    expect(found.shown).toEqual({});
    // Nothing failed on either side.
    expect(found.reason).not.toContain('failed there');
    expect(found.reason.match(/a trial failed at the setting itself/gu)).toHaveLength(2);
  });
  it('names failures from the lowest pressure on', () => {
    const found = advise(situation({ trials: [...met, trial(3, false), trial(3.4), trial(1.8, false), trial(1.6)] }));
    expect(found.notes.join(' ')).toContain('failed at 1.80 inH2O, 3.00 inH2O');
  });
});

describe('with a limit on one side only', () => {
  const oneLimit = { high: 3, longestDelayS: 5, mostFailures: 1 };
  it('asks for the plan at the setting', () => {
    expect(advise(situation({ limits: oneLimit })).next).toMatchObject({ pressure: 2.4, sparkDelay_s: 0 });
    expect(advise(situation({ limits: { ...oneLimit, high: 2.3 } }))).toMatchObject({ next: null, stop: true });
  });
  it('goes outward on that side only, and says what is missing for the other', () => {
    const { candidates } = advise(situation({ limits: oneLimit, trials: met }));
    expect(new Set(candidates.map(({ side }) => side))).toEqual(new Set(['high']));
    const done = advise(situation({ limits: oneLimit, trials: [...met, trial(3)] }));
    expect(done.next).toBeNull();
    expect(done.reason).toContain('no lowest pressure for trials is known');
  });
});

describe('no trial at all', () => {
  it.each([
    ['without a range and limits', { limits: { mostFailures: 1 } }, 'Neither the maker'],
    ['at a setting beyond the limits', { limits: { low: 2.5, high: 3, mostFailures: 1 } }, 'outside'],
    ["at a setting beyond the maker's range", { makerRange: { low: 1, high: 2.3 } }, 'outside'],
    ['where range and limits exclude each other', { makerRange: { low: 4, high: 5 } }, 'in common'],
    ['beyond the sweep', { tested: { low: 2.5, high: 4 } }, 'Sweep there'],
    ['without a window', { window: undefined }, 'no window'],
    ['without a setting', { setting: undefined }, 'no set point'],
    ['before what is open is settled', { obstacles: ['Judge the trial at 0:30.'] }, 'Judge the trial'],
    [
      'when none of them lit',
      { trials: [trial(2.4, false), trial(3, false), trial(2, false)] },
      'None of the 3 trials lit',
    ],
    [
      'when none of them lit, far from the setting too',
      { trials: [trial(3, false), trial(2, false)] },
      'None of the 2 trials lit',
    ],
    // The spark would come late into gas that did not light close by.
    [
      'with a delayed spark between failures',
      { trials: [...met.slice(0, 3), trial(2, false), trial(2.8, false)] },
      'between failures',
    ],
  ])('%s', (_, more, reason) => {
    const found = advise(situation(more));
    expect(found).toMatchObject({ next: null, stop: true, candidates: [] });
    expect(found.reason).toContain(reason);
  });
});

it('without a setting it says what failed, not that there is nothing to prove', () => {
  const { setting: _, ...none } = situation({ trials: [trial(2.4, false), trial(2.4, false)] });
  const { stop, reason } = advise(none);
  expect(stop).toBe(true);
  expect(reason).toBe('None of the 2 trials lit. Purge in full and find out why before any further trial.');
  expect(advise({ ...none, trials: [] }).reason).toContain('nothing to prove');
});

it('a trial that is written down as lit outside of the sweep or beyond the signal shows nothing there', () => {
  for (const wrong of [5.5, 4.2]) {
    const { shown, candidates } = advise(situation({ trials: [...met, trial(wrong)] }));
    expect(shown.high ?? 2.4).toBeLessThan(2.51);
    expect(candidates.some(({ side }) => side === 'high')).toBe(true);
  }
});
