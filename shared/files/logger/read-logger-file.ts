import type { Capture } from '../../model/capture.ts';
import type { Mapping } from '../../model/logger/mapping.ts';
import { fail, ok, type Outcome } from '../../model/outcome.ts';
import type { LoggerStart } from '../../model/logger/preview.ts';
import { contentId, readingsId } from '../content-id.ts';
import { type NamedText, readSetup } from '../setup-file.ts';
import { readTrialsCsv } from '../trials-csv.ts';
import { isWideCsv, practiceLines, readWideCsv } from '../wide-csv.ts';
import { decodeText } from './decode-text.ts';
import { headingKey } from './heading-key.ts';
import { proposeMapping, timeHeading, type Proposal } from './propose-mapping.ts';
import { readRows } from './read-rows.ts';
import { settledMapping } from './settled-mapping.ts';
import { taken } from './taken.ts';
import { type OffsetAt, startNotices, startOf } from './time/start-of.ts';

/** How a file was read: in words, as the mapping that says all of it, and by what heading that is remembered. */
export interface TakenAs {
  taken: string;
  settled: Mapping;
  /** When it began, where its times have a date. */
  start: LoggerStart | undefined;
  /** The id that its capture had before ids were made from the readings alone: a store may have it. */
  formerId: string;
  /** Undefined where it is not to be remembered. */
  heading: string | undefined;
}

/**
 * Reads the file of another logger. Cells that are no numbers become flagged readings and are named; rows without a time are left out and
 * named; `logger` says what was taken for what. A wide CSV of ours is read as such where the mapping says nothing, and has no `logger`.
 * A date makes the start of the capture, in the time zone of the file, else in that of `offsetAt`.
 * Fails with `logger-unreadable`, `map-ambiguous`, `map-unclear`, `file-too-large`, `csv-empty`, `setup-invalid`, `trials-invalid`.
 */
export function readLoggerFile(input: {
  file: string;
  bytes: Uint8Array;
  mapping?: Mapping;
  /** The time zone of the computer. */
  offsetAt?: OffsetAt;
  setup?: NamedText;
  trials?: NamedText;
}): Outcome<{ capture: Capture; notices: string[]; logger?: TakenAs }> {
  const { file, mapping } = input;
  const decoded = decodeText(file, input.bytes);
  if (!decoded.ok) return decoded;
  const { text, encoding } = decoded.value;
  const saysNothing = Object.keys(mapping ?? {}).length === 0;
  if (saysNothing && isWideCsv(text)) return readWideCsv({ ...input, text });
  const proposed = proposeMapping(file, text, mapping);
  if (!proposed.ok) return proposed;
  const proposal = proposed.value;
  if (proposal.open[0]) return fail(proposal.open[0].fault);
  const read = readRows(file, proposal);
  if (!read.ok) return read;
  const setup = input.setup ? readSetup(input.setup) : ok({ setup: {}, notices: [] });
  if (!setup.ok) return setup;
  const trials = input.trials ? readTrialsCsv(input.trials) : ok([]);
  if (!trials.ok) return trials;
  const { readings, first } = read.value;
  const start = proposal.time && startOf(first, proposal.time, timeHeading(proposal), input.offsetAt);
  const beside = [input.setup?.text ?? '', input.trials?.text ?? ''];
  return ok({
    capture: {
      // The day, but not the time zone, which may be that of another computer.
      id: readingsId(readings, proposal.time?.hasDate ? first?.seconds : undefined, ...beside),
      ...(start && { startedAt: start.at }),
      ...(practiceLines.test(text) && { practice: true }),
      meters: [],
      setup: setup.value.setup,
      readings,
      lines: [],
      marks: [],
      trials: trials.value,
      notes: [],
    },
    notices: [...startNotices(file, start), ...read.value.notices, ...setup.value.notices],
    logger: {
      taken: taken(file, encoding, proposal, start),
      settled: settledMapping(proposal, mapping),
      start,
      formerId: contentId(text, readAs(proposal), ...beside),
      heading: headingKey(text),
    },
  });
}

/** What two mappings that give the same readings have in common. Never to be changed: former ids were made of it. */
const readAs = (proposal: Proposal): string => {
  const { decimal, time } = settledMapping(proposal);
  return JSON.stringify([
    decimal,
    time,
    proposal.columns.map(({ index, role, unit, factor }) => [index, role, unit, factor]),
  ]);
};
