import { comparedQuantities, type ComparisonResult } from '../../shared/model/results/analysis-result.ts';
import { formatConfidence, noNumber, withSign } from '../../shared/model/format.ts';
import { quantityFormat } from '../../shared/report/quantity-format.ts';
import { quantityLabels } from '../../shared/report/labels.ts';
import { StatusWord } from '../ui/StatusWord.tsx';

/** Every compared quantity, before and after, with its change and the confidence interval of the change. */
export function ChangeTable({ result }: { result: ComparisonResult }) {
  return (
    <div className="change-table">
      <table>
        <thead>
          <tr>
            <th>Quantity</th>
            <th className="figure">Earlier</th>
            <th className="figure">Current</th>
            <th className="figure">Change</th>
            <th className="figure">{formatConfidence(result.confidence)} interval</th>
            <th>Significant?</th>
          </tr>
        </thead>
        <tbody>
          {comparedQuantities.map((quantity) => {
            const { before, after, change, ci, significant } = result[quantity];
            const { print, unit } = quantityFormat(quantity, result);
            const signed = (value: number) => withSign(value, print(value));
            return (
              <tr key={quantity}>
                <th scope="row">
                  {quantityLabels[quantity]}, {unit}
                </th>
                <td className="figure">{before === null ? noNumber : print(before)}</td>
                <td className="figure">{after === null ? noNumber : print(after)}</td>
                <td className="figure">{change === null ? noNumber : signed(change)}</td>
                <td className="figure">{ci === null ? noNumber : `${signed(ci[0])} to ${signed(ci[1])}`}</td>
                <td>
                  {change === null ? (
                    'not known'
                  ) : (
                    <StatusWord
                      tone={significant ? 'warning' : 'plain'}
                      shape={significant ? 'triangle' : 'hollow-circle'}
                    >
                      {significant ? 'Yes' : 'No'}
                    </StatusWord>
                  )}
                </td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </div>
  );
}
