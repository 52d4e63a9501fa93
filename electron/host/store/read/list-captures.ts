import type { Database } from 'better-sqlite3';
import type { CaptureSummary } from '../../../../shared/contract/api.ts';
import type { BurnerFacts, Trial } from '../../../../shared/model/capture.ts';
import type { Role } from '../../../../shared/model/reading.ts';
import { validTrials } from '../../../../shared/model/trials/valid-trials.ts';
import type { CaptureRow } from './capture-rows.ts';
import { searchQuery } from './search-query.ts';

/** Which part of the list of captures: `count` of them from place `from` (0: the newest) of those that `search` finds. */
export interface ListRequest {
  search: string;
  from: number;
  count: number;
}

export interface CaptureList {
  /** How many captures the search finds. */
  total: number;
  captures: CaptureSummary[];
}

type SummaryRow = Omit<CaptureRow, 'key' | 'setup' | 'owner_host'> & {
  /** JSON, [status, corrects] of each entry in order. */
  entries: string;
  /** JSON, [role, unit] of each channel in order. */
  channels: string;
};

/** Reads summaries of captures in one query; `rest` chooses and orders them. */
const selectSummaries = (rest: string): string => `
  SELECT id, started_at, added_at, status, technician, burner_id, burner, practice, recorded_here, lines, readings, duration_s,
    (SELECT json_group_array(json_array(trial.status, corrects) ORDER BY trial.id) FROM trial WHERE capture = capture.key) AS entries,
    (SELECT json_group_array(json_array(role, unit) ORDER BY channel.key) FROM channel WHERE capture = capture.key) AS channels
  FROM capture ${rest}`;

const newestFirst = 'ORDER BY listed_at DESC, key DESC';
const found = 'key IN (SELECT rowid FROM capture_search WHERE capture_search MATCH ?)';

/** Captures newest first, by the words of `search`; see `searchQuery`. */
export function listCaptures(db: Database, { search, from, count }: ListRequest): CaptureList {
  const query = searchQuery(search);
  const where = query === undefined ? 'WHERE arriving = 0' : `WHERE arriving = 0 AND ${found}`;
  const values = query === undefined ? [] : [query];
  // One transaction: the number and the captures belong together.
  return db.transaction(() => ({
    total:
      db
        .prepare<string[], number>(`SELECT count(*) FROM capture ${where}`)
        .pluck()
        .get(...values) ?? 0,
    captures: db
      .prepare<(string | number)[], SummaryRow>(selectSummaries(`${where} ${newestFirst} LIMIT ? OFFSET ?`))
      .all(...values, count, from)
      .map(toSummary),
  }))();
}

/** Every capture, newest first. */
export const allCaptures = (db: Database): CaptureSummary[] =>
  listCaptures(db, { search: '', from: 0, count: -1 }).captures;

/** Nobody completes more than this many at one go: thousands may have come interrupted from files, and this is read beside the ports. */
const mostUnfinished = 100;

/** The captures that are being recorded, then those that were interrupted, each newest first, at most a hundred. */
export const unfinishedCaptures = (db: Database): CaptureSummary[] =>
  db
    .prepare<[number], SummaryRow>(
      selectSummaries(`WHERE arriving = 0 AND status IN ('recording', 'interrupted')
        ORDER BY status = 'recording' DESC, listed_at DESC, key DESC LIMIT ?`),
    )
    .all(mostUnfinished)
    .map(toSummary);

/** The summary of one capture. Throws when there is none. */
export function summaryOf(db: Database, key: number): CaptureSummary {
  const row = db.prepare<[number], SummaryRow>(selectSummaries('WHERE key = ?')).get(key);
  if (!row) throw new Error(`no capture with key ${key}`);
  return toSummary(row);
}

/** A number that is greater after every change that the list shows or a search finds, whoever made it. */
export const listVersion = (db: Database): number =>
  db.prepare<[], number>('SELECT version FROM list_version').pluck().get() ?? 0;

function toSummary(row: SummaryRow): CaptureSummary {
  const entries = JSON.parse(row.entries) as [Trial['status'] | null, number | null][];
  const trials = entries.map(([status, corrects]) => ({ ...(status && { status }), ...(corrects && { corrects }) }));
  const units: CaptureSummary['units'] = {};
  for (const [role, unit] of JSON.parse(row.channels) as [Role, string][]) units[role] ??= unit;
  return {
    id: row.id,
    startedAt: row.started_at ?? row.added_at,
    ...(row.started_at === null && { startUnknown: true }),
    ...(row.burner_id !== null && { burnerId: row.burner_id }),
    ...(row.burner !== null && { burner: JSON.parse(row.burner) as BurnerFacts }),
    ...(row.technician !== null && { technician: row.technician }),
    status: row.status,
    ...(row.practice === 1 && { practice: true }),
    ...(row.recorded_here === 1 && { recordedHere: true }),
    lines: row.lines,
    readings: row.readings,
    trials: validTrials(trials).length,
    durationS: row.duration_s,
    units,
  };
}
