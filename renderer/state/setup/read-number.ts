/** A number as typed, with decimal point or comma: undefined when empty, NaN when it is not a number. */
export function readNumber(text: string): number | undefined {
  const trimmed = text.trim().replace(',', '.').replace('\u2212', '-');
  if (trimmed === '') return undefined;
  return /^[+-]?(\d+\.?\d*|\.\d+)$/u.test(trimmed) ? Number(trimmed) : Number.NaN;
}
