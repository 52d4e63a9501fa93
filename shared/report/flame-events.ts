import type { AnalysisResult, WindowEnd } from '../model/results/analysis-result.ts';
import {
  formatElapsed,
  formatPressure,
  formatPressureRange,
  formatSeconds,
  formatSignal,
  guardedNumber,
} from '../model/format.ts';
import type { PressureUnit } from '../model/units.ts';
import { causeLabels } from './labels.ts';

/** Where the flame was lost and came back: "lost at 1.29 inH2O, back by itself at 1.51 inH2O", one for each time. */
export const flameHysteresisLines = ({ flameHysteresis = [], pressureUnit }: AnalysisResult): string[] =>
  flameHysteresis.map(
    ({ lostAt, returnedAt, atRest }) =>
      `lost at ${formatPressure(lostAt, pressureUnit)}, back by itself${atRest ? ' or by an unrecorded spark' : ''} at ${formatPressure(returnedAt, pressureUnit)}`,
  );

/** When the signal fell below what is required at a good pressure: "at 1:01.2 for 1.8 s, down to 0.30 V at 2.40 inH2O". */
export const excursionLines = ({ excursions = [], pressureUnit, signalUnit }: AnalysisResult): string[] =>
  excursions.map(
    ({ at_s, seconds, pressure, least, range }) =>
      `at ${formatElapsed(at_s)} for ${formatSeconds(seconds)}, down to ${formatSignal(least, signalUnit)} at ${range ? formatPressureRange(range, pressureUnit) : formatPressure(pressure, pressureUnit)}`,
  );

/** A guarded end, and by which evidence where that is not what sets the end: "1.20, by unsteady flame signal". */
export const guardedText = (
  { guarded, guardedBy, cause }: WindowEnd,
  unit: PressureUnit,
  side: 'low' | 'high',
): string =>
  `${guardedNumber(guarded, unit, side === 'low' ? 'up' : 'down')}${guardedBy && guardedBy !== cause ? `, by ${causeLabels[guardedBy]}` : ''}`;
