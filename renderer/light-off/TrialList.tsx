import type { StoredTrial } from '../../shared/contract/api.ts';
import { formatNumber, pressureNumber, pressureUnitLabel } from '../../shared/model/format.ts';
import { convertPressure, type PressureUnit } from '../../shared/model/units.ts';
import { validTrials } from '../../shared/model/valid-trials.ts';
import { StatusWord } from '../ui/StatusWord.tsx';

/** The trials of a capture, newest first. */
export function TrialList({ trials, unit }: { trials: readonly StoredTrial[]; unit: PressureUnit }) {
  if (trials.length === 0) return <p>No trials yet.</p>;
  const counted = validTrials(trials);
  const lit = counted.filter((trial) => trial.lit).length;
  return (
    <>
      <p>
        <span className="figure">{lit}</span> of <span className="figure">{counted.length}</span> lit
      </p>
      <table>
        <thead>
          <tr>
            <th className="figure">Pressure ({pressureUnitLabel(unit)})</th>
            <th className="figure">Spark delay&nbsp;(s)</th>
            <th>Result</th>
            <th className="figure">Time to prove&nbsp;(s)</th>
          </tr>
        </thead>
        <tbody>
          {trials.toReversed().map((trial) => (
            <tr key={trial.id}>
              <td className="figure">{pressureNumber(convertPressure(trial.pressure, trial.unit, unit), unit)}</td>
              <td className="figure">{trial.sparkDelayS === undefined ? '' : formatNumber(trial.sparkDelayS, 1)}</td>
              <td>
                <StatusWord tone={trial.lit ? 'good' : 'bad'} shape={trial.lit ? 'solid-circle' : 'cross'}>
                  {trial.lit ? 'Lit' : 'Not lit'}
                </StatusWord>
              </td>
              <td className="figure">{trial.timeToProveS === undefined ? '' : formatNumber(trial.timeToProveS, 1)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p className="soft">Time to prove is counted from gas on.</p>
    </>
  );
}
