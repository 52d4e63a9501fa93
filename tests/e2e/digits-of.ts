import { analyze } from '../../shared/analysis/analyze.ts';
import { readWideCsv } from '../../shared/files/wide-csv.ts';

/** A capture as text, so that every engine reads its numbers itself. */
export type CaptureTexts = Parameters<typeof readWideCsv>[0];

/**
 * Everything that the analysis says of a capture, to the last digit: the answer as JSON, and each array behind it by its
 * name, its numbers written out in full.
 */
export function digitsOf(texts: CaptureTexts): Record<string, string> {
  const read = readWideCsv(texts);
  if (!read.ok) throw new Error(read.fault.message);
  const found = analyze(read.value.capture);
  if (!found.ok) throw new Error(found.fault.message);
  const digits: Record<string, string> = {};
  const walk = (name: string, value: unknown): void => {
    // A double's shortest text is the double itself; only the sign of zero is lost in it.
    if (typeof value === 'number') digits[name] = Object.is(value, -0) ? '-0' : String(value);
    else if (value instanceof Float64Array)
      digits[name] = Array.from(value, (each) => (Object.is(each, -0) ? '-0' : String(each))).join(' ');
    else if (typeof value === 'object' && value !== null)
      for (const [key, inner] of Object.entries(value)) walk(`${name}.${key}`, inner);
    else digits[name] = String(value);
  };
  walk('detail', found.value);
  return digits;
}
