import type { AnalysisDetail } from '../../model/results/analysis-result.ts';
import type { Capture } from '../../model/capture.ts';
import { formatConfidence, formatWallTime } from '../../model/format.ts';
import { setupDefaults } from '../../model/setup.ts';
import { leftOutCount } from './diagnostics.ts';
import type { Section } from '../document.ts';

export const warningSection = ({ result }: AnalysisDetail): Section => ({
  heading: 'Warnings',
  blocks: [
    ...(result.warnings.length === 0
      ? [{ kind: 'paragraph', text: 'None.' } as const]
      : result.warnings.map((warning) => ({ kind: 'caution', text: warning.message }) as const)),
    ...(result.findings.length > 0
      ? [
          { kind: 'paragraph', text: 'Also found:' } as const,
          { kind: 'list', items: result.findings.map((finding) => finding.message) } as const,
        ]
      : []),
  ],
});

/** Who has the final word, and what a setting found with two meters does not prove. */
export const cautionSection = (): Section => ({
  heading: 'Cautions',
  blocks: [
    {
      kind: 'caution',
      text: "The burner maker's manual, the code in force at the site (for instance NFPA 85 or 86, ASME CSD-1, EN 676, EN 746-2, or what applies locally) and a licensed person decide. Where this report differs from them, they take precedence.",
    },
    {
      kind: 'list',
      items: [
        'Pilot Bench only reads meters. It did not control the burner, its valves or its ignition, and it is not a safety device.',
        'Unburned gas collects when a pilot does not light. Every further trial needs a full purge first.',
        'Ignition transformers produce thousands of volts.',
        'Jumpers defeat safety functions: remove every jumper that was placed for a test, and prove the safety shutdown before leaving the burner.',
        'A good flame signal at a pressure does not prove that the pilot lights at that pressure.',
        'This report does not replace the tests that the code requires: pilot turndown, flame failure response, and a detector that responds to neither the spark nor a hot furnace.',
        'It applies to the gas, the air setting and the parts as they were at this visit.',
      ],
    },
  ],
});

/** Which program created the report, and when. */
export interface Provenance {
  /** Wall time, ISO 8601 with offset. */
  madeAt: string;
  version: string;
}

/** Enough to find the data again and to reproduce the same numbers from them. */
export const identitySection = (
  capture: Capture,
  { result, explanation }: AnalysisDetail,
  provenance: Provenance,
): Section => ({
  heading: 'Data and software',
  blocks: [
    {
      kind: 'facts',
      rows: [
        { label: 'Capture', value: capture.id },
        { label: 'Raw lines stored', value: String(capture.lines.length) },
        { label: 'Pilot pressure readings', value: String(result.readings.pressure) },
        { label: 'Flame signal readings', value: String(result.readings.signal) },
        { label: 'Flagged (no number)', value: String(result.readings.flagged) },
        { label: 'Left out of the curve, flagged ones included', value: String(leftOutCount(explanation.leftOut)) },
        {
          label: 'Analysis',
          value: `${result.schema}, confidence ${formatConfidence(result.confidence)}, seed ${capture.setup.seed ?? setupDefaults.seed}`,
        },
        ...programRows(capture, provenance).slice(1),
      ],
    },
  ],
});

/** Which capture a report is about, and which program created it, and when. */
export const programRows = (capture: Capture, { madeAt, version }: Provenance): { label: string; value: string }[] => [
  { label: 'Capture', value: capture.id },
  { label: 'Program', value: `Pilot Bench ${version}` },
  { label: 'Report created', value: formatWallTime(madeAt) },
];

export const signatureSection = (capture: Capture): Section => ({
  heading: 'Signature',
  blocks: [
    {
      kind: 'signature',
      lines: [`Technician${capture.technician ? ` (${capture.technician})` : ''}`, 'License number', 'Date'],
    },
  ],
});
