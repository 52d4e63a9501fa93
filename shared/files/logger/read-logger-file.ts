import type { Capture } from '../../model/capture.ts';
import type { Mapping } from '../../model/logger/mapping.ts';
import { fail, ok, type Outcome } from '../../model/outcome.ts';
import { contentId } from '../content-id.ts';
import { type NamedText, readSetup } from '../setup-file.ts';
import { readTrialsCsv } from '../trials-csv.ts';
import { isWideCsv, practiceLines, readWideCsv } from '../wide-csv.ts';
import { decodeText } from './decode-text.ts';
import { headingKey } from './heading-key.ts';
import { proposeMapping, type Proposal } from './propose-mapping.ts';
import { readRows } from './read-rows.ts';
import { settledMapping } from './settled-mapping.ts';
import { taken } from './taken.ts';

/** How a file was read: in words, as the mapping that says all of it, and by what heading that is remembered. */
export interface TakenAs {
  taken: string;
  settled: Mapping;
  /** Undefined where it is not to be remembered. */
  heading: string | undefined;
}

/**
 * Reads the file of another logger. Cells that are no numbers become flagged readings and are named; rows without a time are left out and
 * named; `logger` says what was taken for what. A wide CSV of ours is read as such where nothing is given, and has no `logger`.
 * Fails with `logger-unreadable`, `map-ambiguous`, `map-unclear`, `file-too-large`, `csv-empty`, `setup-invalid`, `trials-invalid`.
 */
export function readLoggerFile(input: {
  file: string;
  bytes: Uint8Array;
  mapping?: Mapping;
  setup?: NamedText;
  trials?: NamedText;
}): Outcome<{ capture: Capture; notices: string[]; logger?: TakenAs }> {
  const { file, mapping } = input;
  const decoded = decodeText(file, input.bytes);
  if (!decoded.ok) return decoded;
  const { text, encoding } = decoded.value;
  if (mapping === undefined && isWideCsv(text)) return readWideCsv({ ...input, text });
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
  return ok({
    capture: {
      id: contentId(text, readAs(proposal), input.setup?.text ?? '', input.trials?.text ?? ''),
      ...(practiceLines.test(text) && { practice: true }),
      meters: [],
      setup: setup.value.setup,
      readings: read.value.readings,
      lines: [],
      marks: [],
      trials: trials.value,
      notes: [],
    },
    notices: [...read.value.notices, ...setup.value.notices],
    logger: {
      taken: taken(file, encoding, proposal),
      settled: settledMapping(proposal, mapping),
      heading: headingKey(text),
    },
  });
}

/** The same for two mappings that give the same readings, so that a file that is read again is the same capture. */
const readAs = (proposal: Proposal): string => {
  const { decimal, time } = settledMapping(proposal);
  return JSON.stringify([
    decimal,
    time,
    proposal.columns.map(({ index, role, unit, factor }) => [index, role, unit, factor]),
  ]);
};
