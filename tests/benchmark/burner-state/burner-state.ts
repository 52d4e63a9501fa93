import { inParallel } from '../in-parallel.ts';
import type { Figure, Section } from '../section.ts';
import { table } from '../table.ts';
import { visitKinds } from '../visit/visit.ts';
import type { VisitVerdict } from './judge-visit.ts';
import { stateNames } from './score-states.ts';

/** A share in per cent with two decimals: 97 and 99 per cent are what is promised. */
const percent = (share: number) => `${(100 * share).toFixed(2)} %`;

/** Visits of each kind. */
const usualVisits = 5;

/** Right and judged seconds of one state over some visits. */
const shareOf = (verdicts: readonly VisitVerdict[], when: 'hindsight' | 'live', name: (typeof stateNames)[number]) => {
  const judged = verdicts.reduce((sum, verdict) => sum + verdict[when][name].judged, 0);
  const right = verdicts.reduce((sum, verdict) => sum + verdict[when][name].right, 0);
  return judged > 0 ? right / judged : Number.NaN;
};

const sum = (verdicts: readonly VisitVerdict[], of: (verdict: VisitVerdict) => number) =>
  verdicts.reduce((total, verdict) => total + of(verdict), 0);

/** Alarms that called for the gas to be shut while there was no danger. */
const falseAlarmsOf = ({ alarms }: VisitVerdict) => alarms.filter(({ danger }) => !danger).length;

/** Trials of some visits, found and missed, and their time to prove. */
const trialsOf = (verdicts: readonly VisitVerdict[], when: 'trials' | 'liveTrials') => {
  const of = (count: (trials: VisitVerdict['trials']) => number) => sum(verdicts, (verdict) => count(verdict[when]));
  return {
    seen: of((trials) => trials.true - trials.unseen),
    found: of((trials) => trials.found),
    unseen: of((trials) => trials.unseen),
    invented: of((trials) => trials.inventedAt.length),
    provedJudged: of((trials) => trials.provedJudged),
    provedUnseen: of((trials) => trials.provedUnseen),
    provedWrong: of((trials) => trials.provedWrongAt.length),
    resultJudged: of((trials) => trials.resultJudged),
    resultWrong: of((trials) => trials.resultWrongAt.length),
  };
};

const trialFigures = (when: string, trials: ReturnType<typeof trialsOf>): Figure[] => [
  {
    what: `trials recognized without a hand, ${when}`,
    wanted: 'at least 99 %, none invented',
    found: `${trials.found} of ${trials.seen}, ${trials.invented} invented; ${trials.unseen} more came while a meter was out; lit or not right in ${trials.resultJudged - trials.resultWrong} of ${trials.resultJudged}`,
    met: trials.found >= 0.99 * trials.seen && trials.invented === 0,
  },
  {
    what: `time to prove, ${when}`,
    wanted: 'within one interval of the meters',
    found: `${trials.provedJudged - trials.provedWrong} of ${trials.provedJudged}; ${trials.provedUnseen} more came while a meter was out`,
    met: trials.provedWrong === 0,
  },
];

/** How well the tracker tells gas, flame, regulator and phase on whole visits whose truth is known. */
export const burnerState: Section = {
  name: 'burner-state',
  title: 'The state of the burner, on whole visits of an independent generator',
  async run({ sweeps, seed, kinds, progress }) {
    const visits = sweeps ?? usualVisits;
    const drawn = visitKinds.filter((kind) => !kinds || kinds.includes(kind));
    const tasks = drawn.flatMap((kind) => Array.from({ length: visits }, (_, i) => ({ kind, seed: seed + i })));
    const verdicts = await inParallel<VisitVerdict>(new URL('judge-visit.ts', import.meta.url), tasks, (count, of) =>
      progress(`${count} of ${of} visits`),
    );
    const delays = verdicts.flatMap(({ lossDelays }) => lossDelays);
    const unproved = verdicts.flatMap(({ unprovedDelays }) => unprovedDelays);
    const toldShutter = verdicts.flatMap(({ lossDelaysToldShutter }) => lossDelaysToldShutter);
    const inTime = (of: readonly number[]) => of.filter((delay) => delay <= 1.5).length;
    const said = (of: readonly number[]) => `${inTime(of)} of ${of.length}`;
    const falseAlarms = sum(verdicts, falseAlarmsOf);
    const hours = sum(verdicts, ({ burningHours }) => burningHours);
    const steadily = verdicts.filter(({ kind }) => kind.startsWith('steady'));
    const steady = {
      alarms: sum(steadily, falseAlarmsOf),
      hours: sum(steadily, ({ burningHours }) => burningHours),
    };
    const trials = { hindsight: trialsOf(verdicts, 'trials'), live: trialsOf(verdicts, 'liveTrials') };
    const rows = drawn.map((kind) => {
      const own = verdicts.filter((verdict) => verdict.kind === kind);
      const shares = (when: 'hindsight' | 'live') => stateNames.map((name) => percent(shareOf(own, when, name)));
      return [kind, ...shares('hindsight'), ...shares('live'), String(sum(own, falseAlarmsOf))];
    });
    const figure = (when: 'hindsight' | 'live', wanted: number) =>
      stateNames.map((name) => {
        const share = shareOf(verdicts, when, name);
        return {
          what: `${name} right, ${when === 'live' ? 'live' : 'with hindsight'}`,
          wanted: `at least ${percent(wanted)} of seconds`,
          found: percent(share),
          met: share >= wanted,
        };
      });
    return {
      lines: table([['kind', ...stateNames, ...stateNames.map((name) => `${name}, live`), 'false alarms'], ...rows]),
      data: { seed, visits, verdicts, delays, falseAlarms, burningHours: hours, trials },
      figures: [
        ...figure('hindsight', 0.99),
        ...figure('live', 0.97),
        {
          what: 'loss of a proved flame said within 1.5 s of the earliest moment',
          wanted: 'at least 99.5 %',
          found: `${said(delays)}; flames that went out before they were proved: ${said(unproved)}; all, after a detector told of the shutter too: ${said(toldShutter)}`,
          met: delays.length > 0 ? inTime(delays) / delays.length >= 0.995 : undefined,
        },
        {
          what: 'alarms without a danger, burning steadily with flicker and self-checks',
          wanted: 'fewer than one in ten hours',
          found: `${steady.alarms} in ${steady.hours.toFixed(1)} h; in all visits ${falseAlarms} in ${hours.toFixed(1)} h`,
          met: steady.hours >= 10 ? steady.alarms < steady.hours / 10 : undefined,
        },
        ...trialFigures('with hindsight', trials.hindsight),
        ...trialFigures('live', trials.live),
      ],
    };
  },
};
