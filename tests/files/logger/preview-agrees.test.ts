import fc from 'fast-check';
import { expect, it } from 'vitest';
import { withUse } from '../../../shared/files/logger/preview/change-mapping.ts';
import { previewMapping } from '../../../shared/files/logger/preview/preview-mapping.ts';
import { readLoggerFile } from '../../../shared/files/logger/read-logger-file.ts';
import type { Mapping } from '../../../shared/model/logger/mapping.ts';
import { columnUses, MappingPreview } from '../../../shared/model/logger/preview.ts';
import { manners, type PlainRow } from './manners.ts';

const rows: PlainRow[] = Array.from({ length: 40 }, (_, i) => ({
  t: i / 2,
  p: 1 + (i % 17) / 10,
  s: 0.05 + (i % 23) / 5,
}));

/** Bytes of a manner with some of them changed, and what somebody then does to the columns. */
const changed = fc.record({
  manner: fc.constantFrom(...manners),
  bytes: fc.array(
    fc.record({ where: fc.double({ min: 0, max: 1, noNaN: true }), byte: fc.integer({ min: 0, max: 255 }) }),
    {
      maxLength: 4,
    },
  ),
  steps: fc.array(fc.record({ column: fc.nat(5), use: fc.constantFrom(...columnUses), answer: fc.nat(9) }), {
    maxLength: 5,
  }),
});

it('what is shown is what is imported, whatever is changed, and what is asked is not imported', () => {
  let read = 0;
  fc.assert(
    fc.property(changed, ({ manner, bytes: changes, steps }) => {
      const bytes = Array.from(manner.bytes(rows));
      for (const { where, byte } of changes) bytes[Math.floor(where * (bytes.length - 1))] = byte;
      const file = { file: 'f.txt', bytes: Uint8Array.from(bytes) };
      let mapping: Mapping = {};
      for (const step of [undefined, ...steps]) {
        const found = previewMapping(file.file, file.bytes, mapping, () => undefined);
        if (!found.ok) return;
        // It can be sent to the page as it is.
        const shown = MappingPreview.parse(found.value);
        const taken = readLoggerFile({ ...file, mapping: shown.mapping });
        if (shown.taken === undefined) {
          const asksForColumn = shown.questions.some(({ ask }) => ask.startsWith('Which column'));
          expect(taken.ok && !asksForColumn, JSON.stringify(shown.questions)).toBe(false);
        } else {
          if (!taken.ok) throw new Error(taken.fault.message);
          read += 1;
          expect(taken.value.logger?.taken).toBe(shown.taken);
          for (const { role, unit, readings } of shown.curves) {
            const own = taken.value.capture.readings.filter((reading) => reading.role === role);
            expect([own.length, own[0]?.unit]).toEqual([readings, unit]);
          }
        }
        if (!step) continue;
        const [question] = shown.questions;
        const columns = shown.table?.columns ?? [];
        const column = columns[step.column % (columns.length || 1)];
        if (question && step.answer < question.choices.length) mapping = question.choices[step.answer]!.mapping;
        else if (column) mapping = withUse(shown.mapping, columns, column, step.use);
      }
    }),
    { numRuns: 300, seed: 20261128 },
  );
  expect(read).toBeGreaterThan(100);
});
