import type { Capture } from '../../model/capture.ts';
import {
  formatConfidence,
  formatDuration,
  formatElapsed,
  formatNumber,
  formatPressure,
  formatPressureRange,
  formatSeconds,
  formatSignal,
  formatWallTime,
  pressureUnitLabel,
  signalUnitLabel,
} from '../../model/format.ts';
import type { Reading, Role } from '../../model/reading.ts';
import { setupDefaults } from '../../model/setup.ts';
import type { Setup } from '../../model/setup.ts';
import { pressureUnits, signalUnits } from '../../model/units.ts';
import type { Block, Section } from '../document.ts';
import { roleLabels, ruleLabels } from '../labels.ts';

const notStated = 'not stated';

export function burnerSection({ burner, technician, startedAt, readings }: Capture): Section {
  const rows: [string, string | undefined][] = [
    ['Site', burner?.site],
    ['Burner', burner?.name],
    ['Burner model', burner?.burnerModel],
    ['Serial number', burner?.serialNumber],
    ['Pilot model', burner?.pilotModel],
    ['Flame detector', burner?.flameDetector],
    ['Fuel gas', burner?.gas],
    ['Technician', technician],
    ['Date of visit', startedAt && formatWallTime(startedAt)],
    ['Recording', readings.length > 0 ? recordingText(readings) : undefined],
  ];
  return {
    heading: 'Burner, site and visit',
    blocks: [{ kind: 'facts', rows: rows.map(([label, value]) => ({ label, value: value || notStated })) }],
  };
}

/** From the first to the last reading, with both times on the capture's own clock, on which trials and marks are told. */
function recordingText(readings: Reading[]): string {
  let [first, last] = [Infinity, -Infinity];
  for (const { elapsedS } of readings) {
    first = Math.min(first, elapsedS);
    last = Math.max(last, elapsedS);
  }
  return `${formatDuration(last - first)}, from ${formatElapsed(first)} to ${formatElapsed(last)} (min:s)`;
}

export function requirementsSection(setup: Setup): Section {
  const range = setup.makerPressureRange;
  const rows: [string, string | undefined][] = [
    ["Maker's pilot pressure range", range && formatPressureRange([range.low, range.high], range.unit)],
    ['Minimum flame signal', setup.minimumSignal && formatSignal(setup.minimumSignal.value, setup.minimumSignal.unit)],
    [
      'Allowed drop below the plateau',
      `${formatNumber((setup.signalDropFraction ?? setupDefaults.signalDropFraction) * 100, 1)} %${defaultNote(setup.signalDropFraction)}`,
    ],
    ['Pilot trial time', setup.pilotTrialSeconds === undefined ? undefined : formatSeconds(setup.pilotTrialSeconds)],
    [
      'Fan-only pressure',
      setup.fanOnlyPressure && formatPressure(setup.fanOnlyPressure.value, setup.fanOnlyPressure.unit),
    ],
    [
      'Set point rule',
      `${ruleLabels[setup.setPointRule ?? setupDefaults.setPointRule]}${defaultNote(setup.setPointRule)}`,
    ],
    [
      'Confidence level of the intervals',
      `${formatConfidence(setup.confidence ?? setupDefaults.confidence)}${defaultNote(setup.confidence)}`,
    ],
  ];
  return {
    heading: 'Requirements and rules',
    blocks: [{ kind: 'facts', rows: rows.map(([label, value]) => ({ label, value: value ?? notStated })) }],
  };
}

const defaultNote = (value: unknown): string => (value === undefined ? ' (default)' : '');

/** One row per channel: quantity, unit, meter, accuracy and number of readings. */
export function meterSection(capture: Capture): Section {
  const portOfLine = new Map(capture.lines.map((line) => [line.seq, line.port]));
  const channels = new Map<string, { role: Role; unit: string; port?: string; count: number; flagged: number }>();
  for (const reading of capture.readings) {
    const port = reading.line === undefined ? undefined : portOfLine.get(reading.line);
    const key = `${reading.role} ${reading.unit} ${port ?? ''}`;
    const channel = channels.get(key) ?? { role: reading.role, unit: reading.unit, port, count: 0, flagged: 0 };
    // As the analysis counts: a flagged reading has no number and is none.
    if (Number.isNaN(reading.value)) channel.flagged += 1;
    else channel.count += 1;
    channels.set(key, channel);
  }
  const rows = [...channels.values()].map(({ role, unit, port, count, flagged }) => {
    const meter = capture.meters.find((each) => each.port === port);
    return [
      roleLabels[role],
      unitLabel(unit),
      meter ? [meter.profile, meter.description].filter(Boolean).join(', ') : 'not stated in the file',
      port ?? '',
      accuracyText(role, capture.setup),
      String(count),
      String(flagged),
    ];
  });
  const silent = capture.meters.filter((meter) => !rows.some((row) => row[3] === meter.port));
  const blocks: Block[] = [
    {
      kind: 'table',
      columns: [
        { heading: 'Quantity', align: 'left', share: 15 },
        { heading: 'Unit', align: 'left', share: 9 },
        { heading: 'Meter (profile)', align: 'left', share: 22 },
        { heading: 'Port', align: 'left', share: 15 },
        { heading: 'Accuracy (±)', align: 'left', share: 17 },
        { heading: 'Readings', align: 'right', share: 13 },
        { heading: 'Flagged', align: 'right', share: 11 },
      ],
      rows,
    },
  ];
  if (silent.length > 0)
    blocks.push({
      kind: 'paragraph',
      text: `Connected, but gave no readings: ${silent.map((meter) => `${meter.profile} on ${meter.port}`).join('; ')}.`,
    });
  const units = [...new Set(capture.readings.map((reading) => reading.unit))].filter((unit) => unit === 'inH2O');
  if (units.length > 0)
    blocks.push({ kind: 'paragraph', text: 'inH2O is the conventional inch of water, 249.08891 Pa (NIST SP 811).' });
  return { heading: 'Meters', blocks };
}

const unitLabel = (unit: string): string =>
  pressureUnits.find((each) => each === unit)
    ? pressureUnitLabel(unit as (typeof pressureUnits)[number])
    : signalUnits.find((each) => each === unit)
      ? signalUnitLabel(unit as (typeof signalUnits)[number])
      : unit;

function accuracyText(role: Role, setup: Setup): string {
  const accuracy =
    role === 'pilot_pressure' ? setup.pressureAccuracy : role === 'flame_signal' ? setup.signalAccuracy : undefined;
  if (!accuracy) return notStated;
  const parts = [
    accuracy.percentOfReading > 0 && `${accuracy.percentOfReading} % of reading`,
    accuracy.absolute > 0 && `${accuracy.absolute} ${unitLabel(accuracy.unit)}`,
  ].filter(Boolean);
  return parts.length > 0 ? parts.join(' + ') : 'assumed exact';
}

/** The moments marked as found, before anything was adjusted. */
export function asFoundSection(capture: Capture): Section {
  const found = capture.marks.filter((mark) => mark.kind === 'as-found');
  const [first, ...rest] = found.map(
    (mark) => `At ${formatElapsed(mark.elapsedS)}: ${mark.text || 'no readings noted'}`,
  );
  const blocks: Block[] = [
    first === undefined
      ? { kind: 'paragraph', text: 'No as-found condition was recorded.' }
      : rest.length > 0
        ? { kind: 'list', items: [first, ...rest] }
        : { kind: 'paragraph', text: first },
  ];
  return { heading: 'As found', blocks };
}
