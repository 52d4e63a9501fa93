import type { AnalysisDetail, AnalysisResult } from '../../model/results/analysis-result.ts';
import type { Capture } from '../../model/capture.ts';
import { settingOf } from '../../light-off/at-setting.ts';
import { countWords, noSettingWords, settingWords } from '../../light-off/count-words.ts';
import { formatElapsed, formatPressure } from '../../model/format.ts';
import type { PressureUnit } from '../../model/units.ts';
import { unjudgedTrials } from '../../model/trials/unjudged-trials.ts';
import { trialSecondsOf, validTrials } from '../../model/trials/valid-trials.ts';
import { lightingChart } from '../charts/lighting/lighting-chart.ts';
import type { Block, Section } from '../document.ts';
import { planAtSetting } from '../../light-off/plan-at-setting.ts';
import { remarks, trialTable } from './trial-table.ts';

/** The light-off trials one by one, the corrected and discarded among them, and what those that count prove together. */
export function trialSection(
  capture: Capture,
  analysis: { result: Pick<AnalysisResult, 'lightOff' | 'pressureUnit'> } & Pick<AnalysisDetail, 'lighting'>,
): Section {
  const { trials, setup, marks } = capture;
  const { result } = analysis;
  const heading = 'Light-off trials';
  const unjudged = unjudgedTrials(marks, trials).map(({ fromS }): Block => ({
    kind: 'caution',
    text: `The trial at ${formatElapsed(fromS)} was cut short and is not judged: gas came on, and no result was entered. It does not count.`,
  }));
  if (trials.length === 0)
    return {
      heading,
      blocks: [
        ...unjudged,
        {
          kind: 'caution',
          text: 'No light-off trials were recorded. A good flame signal does not prove that the pilot lights at that pressure.',
        },
      ],
    };
  const blocks: Block[] = [...unjudged];
  const plan = planAtSetting(capture, result);
  if (plan) blocks.push({ kind: 'paragraph', text: plan.sentence });
  if (result.lightOff) blocks.push({ kind: 'paragraph', text: lightOffSentence(result.lightOff, result.pressureUnit) });
  if (validTrials(trials).length === 0)
    blocks.push({
      kind: 'caution',
      text: 'All light-off trials were discarded. A good flame signal does not prove that the pilot lights at that pressure.',
    });
  blocks.push(...lightingBlocks(analysis));
  blocks.push(trialTable(trials, result.pressureUnit, trialSecondsOf(setup)));
  if (trials.some(({ timeToProveS }) => timeToProveS !== undefined))
    blocks.push({ kind: 'paragraph', text: 'Time to prove is counted from the opening of the pilot valve.' });
  const items = trials.flatMap((trial, i) => remarks(trial, `No. ${i + 1}`, result.pressureUnit));
  if (items.length > 0) blocks.push({ kind: 'list', items });
  return { heading, blocks };
}

/** Where it lights, as picture and in words. */
function lightingBlocks({ lighting }: Pick<AnalysisDetail, 'lighting'>): Block[] {
  if (!lighting) return [];
  return [
    {
      kind: 'figure',
      ...lightingChart(lighting),
      caption:
        'Above: probability to light (Firth’s logistic regression on each side) and signal. Below: trials by pressure and spark delay.',
      alternative: ['Light-off trials by pressure and spark delay.', ...lighting.words].join(' '),
    },
    { kind: 'list', items: lighting.words },
  ];
}

/** How many lit, and what those at the setting prove, and no more: Clopper-Pearson lower bounds in sentences. */
export function lightOffSentence(lightOff: NonNullable<AnalysisResult['lightOff']>, unit: PressureUnit): string {
  const { trials, lit, confidence } = lightOff;
  const all = `${lit} of ${trials} ${trials === 1 ? 'trial' : 'trials'} lit, at all pressures and spark delays together.`;
  const at = settingOf(lightOff);
  if (!at) return `${all} ${noSettingWords}`;
  const counts = countWords(at, confidence);
  const where = settingWords(lightOff, unit);
  const within = at.tolerance > 0 ? ` A trial counts there within ${formatPressure(at.tolerance, unit)} of it.` : '';
  if (counts.length === 0) return `${all} None that counts was made at ${where}.`;
  return `${all} At ${where}, they prove this and no more: ${counts.join('; ')} (Clopper-Pearson, one-sided).${within}`;
}
