import type { AnalysisDetail, AnalysisResult, ComparisonDetail, Decision } from '../model/results/analysis-result.ts';
import type { Capture } from '../model/capture.ts';
import { formatGuardedRange, formatPressure, formatWallTime, guardedNumber, pressureNumber } from '../model/format.ts';
import { settingOf } from '../light-off/at-setting.ts';
import { boundWords } from '../light-off/count-words.ts';
import type { Setup } from '../model/setup.ts';
import type { PressureUnit } from '../model/units.ts';
import { isPractice, practiceMark } from '../model/practice-mark.ts';
import { cautionSection, identitySection, signatureSection, warningSection } from './sections/closing-sections.ts';
import { diagnosticsSection } from './sections/diagnostics.ts';
import type { Provenance } from './sections/closing-sections.ts';
import type { KeyResult, ProofDocument } from './document.ts';
import { endsSection, sweepSection } from './sections/finding-sections.ts';
import { trialSection } from './sections/trial-section.ts';
import { planAtSetting, type PlanAtSetting } from '../light-off/plan-at-setting.ts';
import { asLeftSection, comparisonSection, setPointSection } from './sections/setting-sections.ts';
import { recordSection } from './sections/record-section.ts';
import { asFoundSection, requirementsSection, burnerSection, meterSection } from './sections/visit-sections.ts';
import { decisionLabels } from './labels.ts';

/**
 * The proof-of-settings report of one visit as plain data; the same input gives the same document.
 *
 * @param analysis    of `capture` with its own setup
 * @param comparison  with an earlier sweep of the same burner, when there is one
 * @param madeAt      wall time, ISO 8601 with offset
 */
export function proofDocument(
  given: { capture: Capture; analysis: AnalysisDetail; comparison?: ComparisonDetail } & Provenance,
): ProofDocument {
  const { capture, analysis, comparison } = given;
  const sections = [
    burnerSection(capture),
    requirementsSection(capture.setup),
    meterSection(capture),
    asFoundSection(capture),
    sweepSection(capture, analysis),
    endsSection(analysis),
    diagnosticsSection(analysis),
    trialSection(capture, analysis),
    setPointSection(analysis, capture),
    asLeftSection(analysis, capture),
    comparison && comparisonSection(comparison),
    warningSection(analysis),
    recordSection(capture, analysis.result),
    cautionSection(),
    signatureSection(capture),
    identitySection(capture, analysis, given),
  ];
  return documentOf(capture, given, {
    title: 'Proof of pilot settings',
    pressureUnit: analysis.result.pressureUnit,
    keyResults: keyResults(analysis.result, planAtSetting(capture, analysis.result), capture.setup.asLeftPressure),
    sections: sections.filter((section) => section !== undefined),
  });
}

/** A document about one capture, with what stands at the top and the foot of its pages. */
export function documentOf(
  capture: Capture,
  { madeAt, version }: Provenance,
  {
    title,
    pressureUnit,
    keyResults: results,
    sections,
  }: Pick<ProofDocument, 'title' | 'keyResults' | 'sections'> & { pressureUnit: PressureUnit },
): ProofDocument {
  const { burner } = capture;
  const practice = isPractice(capture);
  return {
    title: practice ? `${practiceMark}: ${title.charAt(0).toLowerCase()}${title.slice(1)}` : title,
    subtitle: [burner?.name ?? 'Burner not named', burner?.site].filter(Boolean).join(', '),
    footer: `${practice ? 'PRACTICE: ' : ''}Capture ${capture.id}`,
    madeWith: `Pilot Bench ${version}, ${formatWallTime(madeAt)}`,
    madeAt,
    paper: /^(inH2O|psi)/u.test(pressureUnit) ? 'LETTER' : 'A4',
    keyResults: results,
    sections,
  };
}

const toneOf: Record<Decision, KeyResult['tone']> = {
  pass: 'good',
  'conditional-pass': 'caution',
  'conditional-fail': 'caution',
  fail: 'bad',
};

/** The four results everyone looks for first. */
function keyResults(
  { pressureUnit: unit, window, setPoint, asLeft, lightOff }: AnalysisResult,
  plan: PlanAtSetting | undefined,
  left: Setup['asLeftPressure'],
): KeyResult[] {
  const { low, high } = window;
  const open = {
    'open-low': 'low end not reached',
    'open-high': 'high end not reached',
    'open-both': 'neither end reached',
  };
  return [
    setPoint
      ? {
          label: 'Set point',
          value: formatPressure(setPoint.value, unit),
          note: `margins ${guardedNumber(setPoint.marginLow, unit, 'down')} below, ${guardedNumber(setPoint.marginHigh, unit, 'down')} above${setPoint.provisional ? '; provisional' : ''}`,
          tone: setPoint.provisional ? 'caution' : 'neutral',
        }
      : { label: 'Set point', value: 'none', note: 'see the warnings', tone: 'bad' },
    low && high
      ? {
          label: 'Window, guarded ends',
          value: formatGuardedRange([low.guarded, high.guarded], unit),
          note:
            window.status in open
              ? open[window.status as keyof typeof open]
              : `ends at ${pressureNumber(low.value, unit)} and ${pressureNumber(high.value, unit)} before uncertainty`,
          tone: window.status === 'bounded' ? 'neutral' : 'caution',
        }
      : { label: 'Window', value: 'none', note: 'no pressure satisfies all the evidence', tone: 'bad' },
    asLeft
      ? {
          label: 'As left',
          value: formatPressure(asLeft.value, unit),
          note: decisionLabels[asLeft.decision].toLowerCase(),
          tone: toneOf[asLeft.decision],
        }
      : left
        ? {
            label: 'As left',
            value: formatPressure(left.value, left.unit),
            note: 'no decision: there is no window',
            tone: 'bad',
          }
        : { label: 'As left', value: 'not recorded', note: 'no decision', tone: 'caution' },
    lightOffResult(lightOff, plan),
  ];
}

/** How many trials lit, and what those at the setting prove. */
export function lightOffResult(lightOff: AnalysisResult['lightOff'], plan: PlanAtSetting | undefined): KeyResult {
  if (!lightOff)
    return {
      label: 'Light-off trials',
      value: 'none',
      note: 'a good signal alone does not prove light-off',
      tone: 'caution',
    };
  const at = settingOf(lightOff);
  const proved = at ? boundWords(at, lightOff.confidence) : 'no setting, so nothing is proved about one';
  return {
    label: 'Light-off trials',
    value: `${lightOff.lit} of ${lightOff.trials} lit`,
    note: [...(plan ? [plan.short] : []), ...(proved === undefined ? [] : [proved])].join('; '),
    tone: plan ? (plan.met ? 'good' : 'caution') : 'neutral',
  };
}
