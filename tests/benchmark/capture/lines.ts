const junkEvery = 50;

/** Line number `n` of a meter: a reading, or for one in fifty bytes that are no text. The number stands in both. */
export const lineOf = (n: number): Buffer =>
  n % junkEvery === junkEvery - 1
    ? Buffer.concat([Buffer.from([0xfe, 0x00, 0x9f, 0xc3, 0x28]), Buffer.from(`?${n}`)])
    : Buffer.from((n / 1000).toFixed(3));

/** For each count of lines: how many bytes the rest of `lines` has on the wire, with CR LF behind each. */
export function bytesBehind(lines: number): number[] {
  const behind = [0];
  for (let n = lines - 1; n >= 0; n -= 1) behind.push(behind.at(-1)! + lineOf(n).length + 2);
  return behind.toReversed();
}

/** How stored lines compare with those that were sent. */
export interface LineComparison {
  sent: number;
  lost: number;
  changed: number;
  outOfOrder: number;
}

/** Looks for every sent line among the stored ones, which must be in the order of sending. */
export function compareLines(stored: readonly Buffer[], sent: number): LineComparison {
  const numbers = new Map(Array.from({ length: sent }, (_, n) => [lineOf(n).toString('latin1'), n]));
  const found = new Set<number>();
  let [changed, outOfOrder, last] = [0, 0, -1];
  for (const line of stored) {
    const n = numbers.get(line.toString('latin1'));
    if (n === undefined || found.has(n)) changed += 1;
    else {
      if (n < last) outOfOrder += 1;
      last = n;
      found.add(n);
    }
  }
  return { sent, lost: sent - found.size, changed, outOfOrder };
}
