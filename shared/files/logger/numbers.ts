export type Decimal = '.' | ',';

/** What the cells say of the decimal sign: which one, or `open` where it could be a mark between thousands, or `both`. */
export type DecimalFound = Decimal | 'open' | 'both' | 'none';

const numeral = {
  '.': /^[+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:e[+-]?\d+)?$/iu,
  ',': /^[+-]?(?:\d+(?:,\d*)?|,\d+)(?:e[+-]?\d+)?$/iu,
};

/** The number at the beginning of a cell and the text behind it, which may be a unit. Undefined where it begins with no number. */
export function readNumeral(cell: string, decimal: Decimal): { value: number; rest: string } | undefined {
  const parts = /^([+-]?[\d.,]+(?:e[+-]?\d+)?)\s*(.*)$/isu.exec(cell);
  if (!parts || !numeral[decimal].test(parts[1]!)) return undefined;
  const value = Number(parts[1]!.replace(',', '.'));
  return Number.isFinite(value) ? { value, rest: parts[2]! } : undefined;
}

/**
 * The decimal sign of these cells. "2,514" may be two thousand, so a sign with three digits behind it and one to three before it
 * proves nothing, except after a zero.
 */
export function findDecimal(cells: Iterable<string>): DecimalFound {
  const proved = new Set<Decimal>();
  let open = false;
  for (const cell of cells) {
    const parts = /^[+-]?(\d*)([.,])(\d*)(?:e[+-]?\d+)?(?!\S*[\d.,])/iu.exec(cell);
    if (!parts) continue;
    const [, before, sign, after] = parts;
    const maybeThousands = after!.length === 3 && /^[1-9]\d{0,2}$/u.test(before!);
    if (maybeThousands) open = true;
    else proved.add(sign as Decimal);
    if (proved.size > 1) return 'both';
  }
  return [...proved][0] ?? (open ? 'open' : 'none');
}
