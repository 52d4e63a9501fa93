import type { Database } from 'better-sqlite3';
import type { ReadingBatch } from '../../../../shared/contract/api.ts';
import { flags, roles } from '../../../../shared/model/reading.ts';
import type { Flag } from '../../../../shared/model/reading.ts';
import { convertUnit } from '../../convert-unit.ts';
import type { ChannelRow } from './capture-rows.ts';
import { channelsOf } from './capture-rows.ts';

// About 100 kB a batch: the first part of a long capture shows at once, and no single read holds up the ports.
const maxReadings = 5000;

interface Row {
  n: number;
  channel: number;
  elapsed_s: number;
  value: number | null;
  flag: string | null;
}

/** The stored readings after number `after`, in the capture's unit for each role; undefined when there are none. */
export function readBatch(db: Database, key: number, after: number): ReadingBatch | undefined {
  const rows = db
    .prepare<[number, number, number], Row>(
      'SELECT n, channel, elapsed_s, value, flag FROM reading WHERE capture = ? AND n > ? ORDER BY n LIMIT ?',
    )
    .all(key, after, maxReadings);
  const last = rows.at(-1);
  if (!last) return undefined;
  const channels = channelsOf(db, key);
  const targets = new Map(channels.map((channel) => [channel.key, { channel, unit: firstUnit(channels, channel) }]));
  const batch: ReadingBatch = {
    upTo: last.n,
    role: new Uint8Array(rows.length),
    flag: new Uint8Array(rows.length),
    elapsedS: new Float64Array(rows.length),
    value: new Float64Array(rows.length),
  };
  rows.forEach((row, i) => {
    const target = targets.get(row.channel);
    if (!target) throw new Error(`reading of an unknown channel: ${row.channel}`);
    const { channel, unit } = target;
    const value = row.value === null ? Number.NaN : convertUnit(row.value, channel.unit, unit);
    const flag = row.flag ?? (value === undefined ? 'unit-unknown' : undefined);
    batch.role[i] = roles.indexOf(channel.role);
    batch.flag[i] = flag === undefined ? 0 : 1 + flags.indexOf(flag as Flag);
    batch.elapsedS[i] = row.elapsed_s;
    batch.value[i] = value ?? Number.NaN;
  });
  return batch;
}

const firstUnit = (channels: ChannelRow[], of: ChannelRow): string =>
  channels.find((channel) => channel.role === of.role)?.unit ?? of.unit;
