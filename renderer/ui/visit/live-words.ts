import type { BurnerView } from '../../../shared/contract/api.ts';
import { isSignalWithoutGas } from '../../../shared/model/burner-words.ts';
import { formatDuration } from '../../../shared/model/format.ts';
import type { LatestReading } from '../../state/live/latest-readings.ts';
import { convertSignal, type SignalUnit } from '../../../shared/model/units.ts';
import { flagWords } from '../flag-words.ts';
import type { ShapeName } from '../Shape.tsx';
import type { Tone } from '../StatusWord.tsx';

/** One word beside a live number. `isBlank`: the number is not that of now, and is not shown. */
export interface LiveWord {
  tone: Tone;
  word: string;
  isBlank?: true;
}

type Trouble = BurnerView['pressureTrouble'];

/**
 * Whether gas flows and a flame burns steadily, by the host's word: without it, under an alarm and where the host refuses to have the
 * pressure set, nothing good is said of any number.
 */
export const isProvedNow = (burner: BurnerView | undefined): boolean =>
  burner !== undefined &&
  !burner.alarm &&
  !burner.settingRefusal &&
  burner.gas === 'flowing' &&
  burner.flame === 'burning';

const burns = (burner: BurnerView | undefined): boolean =>
  burner !== undefined && !burner.alarm && (burner.flame === 'burning' || burner.flame === 'unsteady');

const since = (what: string, seconds: number): string =>
  seconds >= 1 ? `${what} for ${formatDuration(Math.floor(seconds))}` : what;

/** "No reading for 12 s": a meter that no longer sends, and since when. `ageMs` of its newest reading. */
export const silenceText = (ageMs: number): string => since('No reading', ageMs / 1000);

/** What keeps a number from being that of now: no meter, a silent one, a frozen one, one that sends no number. */
export function meterProblem(latest: LatestReading<string> | undefined, trouble: Trouble): LiveWord | undefined {
  if (!latest) return { tone: 'plain', word: 'No meter', isBlank: true };
  if (latest.stale) return { tone: 'bad', word: silenceText(latest.ageMs), isBlank: true };
  if (latest.flag) return { tone: 'bad', word: flagWords[latest.flag], isBlank: true };
  switch (trouble?.kind) {
    case 'silent':
      return { tone: 'bad', word: since('No reading', trouble.forS), isBlank: true };
    case 'no-number':
      return { tone: 'bad', word: since('No number', trouble.forS), isBlank: true };
    case 'frozen':
      return { tone: 'bad', word: since('Frozen', trouble.forS) };
    case 'off':
      return { tone: 'bad', word: since('Hose off?', trouble.forS) };
    case undefined:
      return undefined;
  }
}

/** The word beside the pilot pressure. `value` and `range` in one unit. */
export function pressureWord(
  latest: LatestReading<string> | undefined,
  burner: BurnerView | undefined,
  value: number,
  range: { low: number; high: number } | undefined,
): LiveWord | undefined {
  const outside = range && (value < range.low ? 'Below range' : value > range.high ? 'Above range' : undefined);
  return meterProblem(latest, burner?.pressureTrouble) ?? judged(burner, range && 'In range', outside);
}

/** The word beside the flame signal. `value` and `minimum` in one unit. */
export function signalWord(
  latest: LatestReading<string> | undefined,
  burner: BurnerView | undefined,
  value: number,
  minimum: number | undefined,
): LiveWord | undefined {
  const low = minimum !== undefined && value < minimum ? 'Below minimum' : undefined;
  return (
    meterProblem(latest, burner?.signalTrouble) ?? judged(burner, minimum === undefined ? minimum : 'Signal OK', low)
  );
}

/** Gas as it stands, in two words. */
export const gasWord = ({ gas, moreAir }: Pick<BurnerView, 'gas' | 'moreAir'>): StateWord =>
  moreAir ? shutOrCreeping : gasWords[gas];

/** Nobody can tell the air of a purge from gas that creeps in as slowly: whoever stands there looks at the damper. */
const shutOrCreeping: StateWord = { word: 'Gas shut, more air?', shape: 'hollow-square', tone: 'warning' };
const gasWords: Record<BurnerView['gas'], StateWord> = {
  shut: { word: 'Gas shut', shape: 'hollow-square', tone: 'plain' },
  opening: { word: 'Gas opening', shape: 'up', tone: 'plain' },
  flowing: { word: 'Gas flowing', shape: 'solid-square', tone: 'plain' },
  closing: { word: 'Gas closing', shape: 'down', tone: 'plain' },
  unknown: { word: 'Gas: unknown', shape: 'half-circle', tone: 'warning' },
};

/** What the flame does, in two words. A steady flame whose signal is below the required minimum is not called so. */
export function flameWord(
  burner: Pick<BurnerView, 'gas' | 'flame' | 'signalTrouble'>,
  isBelowMinimum: boolean,
): StateWord {
  const { flame } = burner;
  if (isSignalWithoutGas(burner)) return withoutGas;
  return flame === 'burning' && isBelowMinimum ? weakSignal : flameWords[flame];
}

export interface StateWord {
  word: string;
  shape: ShapeName;
  tone: Tone;
}
/** Hot refractory, a spark or another flame: the purge waits until the signal is dark. */
const withoutGas: StateWord = { word: 'Signal without gas', shape: 'half-circle', tone: 'warning' };
const weakSignal: StateWord = { word: 'Signal weak', shape: 'half-circle', tone: 'warning' };
const flameWords: Record<BurnerView['flame'], StateWord> = {
  dark: { word: 'No flame', shape: 'hollow-circle', tone: 'plain' },
  lighting: { word: 'Lighting', shape: 'half-circle', tone: 'plain' },
  burning: { word: 'Flame steady', shape: 'check', tone: 'good' },
  unsteady: { word: 'Flame unsteady', shape: 'half-circle', tone: 'warning' },
  lost: { word: 'Flame lost', shape: 'cross', tone: 'bad' },
  out: { word: 'Flame out', shape: 'hollow-circle', tone: 'plain' },
  unknown: { word: 'Flame: unknown', shape: 'half-circle', tone: 'warning' },
};

/** Whether the flame signal that is shown is below the minimum; a number that is not that of now says nothing. */
export function isBelowMinimum(
  latest: LatestReading<SignalUnit> | undefined,
  unit: SignalUnit,
  minimum: number | undefined,
): boolean {
  const value = latest && !latest.stale && !latest.flag ? convertSignal(latest.value, latest.unit, unit) : undefined;
  return value !== undefined && minimum !== undefined && value < minimum;
}

/** A good word needs a proved flame; a number outside its limits is said of any flame. Without a flame it is no news. */
function judged(
  burner: BurnerView | undefined,
  good: string | undefined,
  outside: string | undefined,
): LiveWord | undefined {
  if (outside) return burns(burner) ? { tone: 'warning', word: outside } : undefined;
  return good !== undefined && isProvedNow(burner) ? { tone: 'good', word: good } : undefined;
}
