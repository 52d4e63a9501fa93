import { type WithoutWindow, withoutWindow } from '../analysis/without-window.ts';
import type { Capture } from '../model/capture.ts';
import type { Fault } from '../model/faults.ts';
import { formatPressure } from '../model/format.ts';
import { planAtSetting } from '../light-off/plan-at-setting.ts';
import type { KeyResult, ProofDocument, Section } from './document.ts';
import { documentOf, lightOffResult } from './proof.ts';
import { cautionSection, programRows, type Provenance, signatureSection } from './sections/closing-sections.ts';
import { recordSection } from './sections/record-section.ts';
import { trialSection } from './sections/trial-section.ts';
import { asFoundSection, burnerSection, meterSection, requirementsSection } from './sections/visit-sections.ts';

/**
 * What was recorded of a visit whose readings give no window, as plain data.
 *
 * @param fault  why there is none
 */
export function recordWithoutWindow(capture: Capture, fault: Fault, provenance: Provenance): ProofDocument {
  const result = withoutWindow(capture);
  return documentOf(capture, provenance, {
    title: 'Visit record without a window',
    pressureUnit: result.pressureUnit,
    keyResults: keyResults(capture, result),
    sections: [
      noWindowSection(fault),
      burnerSection(capture),
      requirementsSection(capture.setup),
      meterSection(capture),
      asFoundSection(capture),
      trialSection(capture, { result }),
      recordSection(capture, result),
      cautionSection(),
      signatureSection(capture),
      { heading: 'Data and software', blocks: [{ kind: 'facts', rows: programRows(capture, provenance) }] },
    ],
  });
}

const noWindowSection = (fault: Fault): Section => ({
  heading: 'No window',
  blocks: [
    { kind: 'caution', text: fault.message },
    {
      kind: 'paragraph',
      text: 'Without a window nothing here shows how far the pressure may drift before the pilot fails, and no setting is proved by its signal. What follows is what was recorded.',
    },
  ],
});

/** The four results everyone looks for first, of which there are two at most. */
function keyResults(capture: Capture, result: WithoutWindow): KeyResult[] {
  const left = capture.setup.asLeftPressure;
  return [
    { label: 'Set point', value: 'none', note: 'there is no window', tone: 'bad' },
    { label: 'Window', value: 'none', note: 'see below why', tone: 'bad' },
    {
      label: 'As left',
      value: left ? formatPressure(left.value, left.unit) : 'not recorded',
      note: left ? 'no decision: there is no window' : 'no decision',
      tone: left ? 'bad' : 'caution',
    },
    lightOffResult(result.lightOff, planAtSetting(capture, result)),
  ];
}
