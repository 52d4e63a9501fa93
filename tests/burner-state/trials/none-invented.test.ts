import { expect, it } from 'vitest';
import { followLive } from '../../benchmark/burner-state/follow-live.ts';
import { run } from '../../benchmark/burner-state/judge-visit.ts';
import { drawVisit } from '../../benchmark/visit/visit.ts';

// The truth of each is that of the visit that was drawn: when the valve was opened.
it.each([
  // A meter freezes while the pilot burns, gas is shut, and it goes on: its first tenth of a second holds old numbers and new ones.
  ['signal meter frozen', 2317],
  // Turned down to 1.17 inH2O the pilot burns dim and restless, nobody having entered the fan-only pressure: no shut gas with a signal.
  ['manometer silent while shut', 2313],
])('no trial is entered that nobody made: %s, %d', (kind, seed) => {
  const visit = drawVisit(kind, seed);
  const { trials, words } = followLive(visit);
  const opened = visit.truth.trials.map(({ gas_s }) => gas_s);
  const near = (atS: number) => opened.some((gasS) => Math.abs(atS - gasS) < 2);
  expect(trials.entered.map(({ gasS }) => gasS).filter((atS) => !near(atS))).toEqual([]);
  // Gas flows from the first opening until the valve is shut: never shut then, whatever the signal does.
  const { gas_s, shut_s } = visit.truth.trials[0]!;
  const flowing = [...words].filter(([tenths]) => tenths > 10 * gas_s + 20 && tenths < 10 * shut_s!);
  expect(flowing.length).toBeGreaterThan(500);
  expect(flowing.filter(([, { gas }]) => gas === 'shut')).toEqual([]);
});

// The hose is pulled off the manometer and put back while the pilot burns dim: with hindsight too nobody sees the gas meanwhile.
it('a hose that is put back over a flame is no trial, live or with hindsight, and raises no alarm', () => {
  const { trials, liveTrials, alarms } = run({ kind: 'hose pulled off', seed: 2415 });
  expect([trials.found, trials.inventedAt, liveTrials.found, liveTrials.inventedAt]).toEqual([3, [], 3, []]);
  expect(alarms).toEqual([]);
});

// The hose is off for twelve seconds; just as it is put back the flame is lost. With hindsight gas was "shut" while the hose was off.
it('a hose that is put back as the flame is lost is no trial either', () => {
  const { trials, hindsight, lossDelays } = run({ kind: 'hose pulled off', seed: 2441 });
  expect([trials.found, trials.inventedAt]).toEqual([2, []]);
  expect(hindsight.gas.wrong).toEqual({});
  expect(lossDelays).toHaveLength(1);
});
