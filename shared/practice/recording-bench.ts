import type { Capture, MarkKind } from '../model/capture.ts';
import type { Reading } from '../model/reading.ts';
import type { PracticeBench } from './bench.ts';
import type { BenchAction } from './bench-controls.ts';
import type { BenchLine } from './bench-meters.ts';
import { practicePorts } from './bench-meters.ts';
import { readBenchLine } from './read-line.ts';

/** The practice bench with a clock, the meters' displays and a running recording, as the simulated technician uses it. */
export interface RecordingBench {
  readonly elapsedS: number;
  act(action: BenchAction): void;
  /** Lets `seconds` pass; everything the meters send is recorded. */
  wait(seconds: number): void;
  mark(kind: MarkKind, text?: string): void;
  /** What the display shows: mean of the readings of the last `seconds`; NaN without any. */
  displayed(quantity: 'pressure' | 'signal', seconds: number): number;
  recorded(): Pick<Capture, 'readings' | 'lines' | 'marks' | 'meters'>;
}

/** Times are rounded to a tenth of a millisecond, as in a real recording. */
const toSeconds = (ms: number): number => Math.round(ms * 10) / 10_000;

export function createRecordingBench(bench: PracticeBench): RecordingBench {
  const readings: Reading[] = [];
  const lines: Capture['lines'] = [];
  const marks: Capture['marks'] = [];
  let nowMs = 0;

  const record = ({ port, text, atMs }: BenchLine): void => {
    if (port === practicePorts.air.port) return; // not connected
    const seq = lines.length + 1;
    const elapsedS = toSeconds(atMs);
    lines.push({ seq, elapsedS, port, raw: text, encoding: 'utf8' });
    const isPressure = port === practicePorts.pressure.port;
    readings.push({
      ...(isPressure
        ? { role: 'pilot_pressure' as const, unit: 'inH2O' as const }
        : { role: 'flame_signal' as const, unit: 'V' as const }),
      elapsedS,
      ...readBenchLine(text),
      raw: text,
      line: seq,
    });
  };

  return {
    get elapsedS() {
      return toSeconds(nowMs);
    },
    act: (action) => bench.act(action),
    wait(seconds) {
      nowMs += seconds * 1000;
      for (const line of bench.advance(nowMs)) record(line);
    },
    mark(kind, text = '') {
      marks.push({ elapsedS: toSeconds(nowMs), kind, text });
    },
    displayed(quantity, seconds) {
      const role = quantity === 'pressure' ? 'pilot_pressure' : 'flame_signal';
      let sum = 0;
      let count = 0;
      for (let i = readings.length - 1; i >= 0; i -= 1) {
        const reading = readings[i];
        if (!reading || reading.elapsedS < nowMs / 1000 - seconds) break;
        if (reading.role !== role || reading.flag) continue;
        sum += reading.value;
        count += 1;
      }
      return count > 0 ? sum / count : Number.NaN;
    },
    recorded: () => ({
      readings,
      lines,
      marks,
      meters: [practicePorts.pressure, practicePorts.signal].map(({ port, profile, label }) => ({
        port,
        profile,
        description: label,
      })),
    }),
  };
}
