import type { Database } from 'better-sqlite3';
import type { ImportedCapture } from '../../../../shared/contract/api.ts';
import type { Capture, Mark, RawLine } from '../../../../shared/model/capture.ts';
import { isPractice } from '../../../../shared/model/practice-mark.ts';
import type { Setup } from '../../../../shared/model/setup.ts';
import type { CaptureRow } from '../read/capture-rows.ts';
import { channelsOf, findExactRow, marksOf, setupOf } from '../read/capture-rows.ts';
import { trialsOf, trialText } from '../trials.ts';
import { markText } from './complete-capture.ts';
import { bytesOf } from '../read/raw-bytes.ts';
import type { ReadingRow } from '../read/read-capture.ts';

type Part = NonNullable<ImportedCapture['differs']>[number];

/**
 * The parts in which a file of a capture differs from the capture of that id in the store. Notes are not compared, as they may be
 * added at any time; nor is the burner, which may have been assigned in the store.
 * @returns none when they are the same, or when the store has no such capture
 */
export function differences(db: Database, capture: Capture): Part[] {
  return db.transaction((): Part[] => {
    const row = findExactRow(db, capture.id);
    if (!row) return [];
    const same: Record<Part, boolean> = {
      readings: sameReadings(db, row, capture),
      lines: sameLines(db, row, capture),
      marks: sameTexts(marksOf(db, row.key), byTime(capture.marks), markText),
      trials: sameTexts(trialsOf(db, row.key), capture.trials, trialText),
      setup: setupText(setupOf(row)) === setupText(capture.setup),
      practice: (row.practice === 1) === isPractice(capture),
    };
    return (Object.keys(same) as Part[]).filter((part) => !same[part]);
  })();
}

// Each is compared in the order of the store, whatever the order in the file.
const byTime = (marks: Mark[]): Mark[] => marks.toSorted((a, b) => a.elapsedS - b.elapsedS);
const byNumber = (lines: RawLine[]): RawLine[] => lines.toSorted((a, b) => a.seq - b.seq);

function sameLines(db: Database, row: CaptureRow, capture: Capture): boolean {
  if (row.lines !== capture.lines.length) return false;
  const stored = db.prepare<[number], { seq: number; elapsed_s: number; port: string; raw: Buffer }>(
    'SELECT seq, elapsed_s, port, raw FROM line WHERE capture = ? ORDER BY seq',
  );
  const lines = byNumber(capture.lines).values();
  for (const { seq, elapsed_s: elapsedS, port, raw } of stored.iterate(row.key)) {
    const line = lines.next().value;
    if (line?.seq !== seq || line.elapsedS !== elapsedS || line.port !== port || !bytesOf(line).equals(raw))
      return false;
  }
  return true;
}

function sameReadings(db: Database, row: CaptureRow, capture: Capture): boolean {
  if (row.readings !== capture.readings.length) return false;
  const channels = new Map(channelsOf(db, row.key).map((channel) => [channel.key, channel]));
  const texts = new Map(capture.lines.map((line) => [line.seq, line.raw]));
  const stored = db.prepare<[number], ReadingRow>(
    'SELECT channel, elapsed_s, value, flag, line, raw FROM reading WHERE capture = ? ORDER BY n',
  );
  const readings = capture.readings.values();
  for (const found of stored.iterate(row.key)) {
    const reading = readings.next().value;
    const channel = channels.get(found.channel);
    if (!reading || channel?.role !== reading.role || channel.unit !== reading.unit) return false;
    const { elapsedS, value, flag, line } = reading;
    if (found.elapsed_s !== elapsedS || found.value !== (flag ? null : value)) return false;
    if (found.flag !== (flag ?? null) || found.line !== (line ?? null)) return false;
    // Without a text of its own it has that of its line, which is compared with the lines.
    if (found.raw !== (line !== undefined && texts.get(line) === reading.raw ? null : reading.raw)) return false;
  }
  return true;
}

const sameTexts = <T>(stored: T[], given: T[], textOf: (item: T) => string): boolean =>
  stored.length === given.length && stored.every((item, i) => textOf(item) === textOf(given[i]!));

/** The setup as text, whatever the order of its keys. */
const setupText = (setup: Setup): string =>
  JSON.stringify(setup, (_key, value: unknown) =>
    typeof value === 'object' && value !== null && !Array.isArray(value)
      ? Object.fromEntries(Object.entries(value).toSorted(([a], [b]) => (a < b ? -1 : 1)))
      : value,
  );
