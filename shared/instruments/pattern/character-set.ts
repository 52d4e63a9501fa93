/** Characters as pairs of UTF-16 codes, first and last of each run; `not` turns the choice round. */
export interface CharacterSet {
  not: boolean;
  ranges: number[];
}

const digits = [48, 57];
const word = [48, 57, 65, 90, 95, 95, 97, 122];
// As ECMAScript defines \s: white space and line ends.
const space = [9, 13, 32, 32, 0xa0, 0xa0, 0x1680, 0x1680, 0x2000, 0x200a, 0x2028, 0x2029, 0x202f, 0x202f, 0x205f, 0x205f, 0x3000, 0x3000, 0xfeff, 0xfeff]; // prettier-ignore

const controls: Record<string, number> = { t: 9, n: 10, v: 11, f: 12, r: 13, 0: 0 };

/** The runs of codes that are not in `ranges`. */
function others(ranges: number[]): number[] {
  const pairs: [number, number][] = [];
  for (let i = 0; i < ranges.length; i += 2) pairs.push([ranges[i] ?? 0, ranges[i + 1] ?? 0]);
  pairs.sort((a, b) => a[0] - b[0]);
  const out: number[] = [];
  let next = 0;
  for (const [first, last] of pairs) {
    if (first > next) out.push(next, first - 1);
    next = Math.max(next, last + 1);
  }
  if (next <= 0xffff) out.push(next, 0xffff);
  return out;
}

type Read = { set: CharacterSet; next: number } | string;

const set = (ranges: number[], next: number): Read => ({ set: { not: false, ranges }, next });

/** The set that the escape after a backslash means; `at` is the place after the backslash. A string says what is wrong. */
export function readEscape(pattern: string, at: number): Read {
  const char = pattern[at];
  switch (char) {
    case undefined:
      return 'it ends in a lone backslash';
    case 'd':
      return set(digits, at + 1);
    case 'D':
      return set(others(digits), at + 1);
    case 'w':
      return set(word, at + 1);
    case 'W':
      return set(others(word), at + 1);
    case 's':
      return set(space, at + 1);
    case 'S':
      return set(others(space), at + 1);
    case 'x':
    case 'u': {
      const length = char === 'x' ? 2 : 4;
      const hex = pattern.slice(at + 1, at + 1 + length);
      if (hex.length !== length || !/^[\da-f]+$/i.test(hex)) return `"\\${char}" needs ${length} hexadecimal digits`;
      const code = Number.parseInt(hex, 16);
      return set([code, code], at + 1 + length);
    }
    default: {
      const control = controls[char];
      if (control !== undefined && !(char === '0' && /\d/.test(pattern[at + 1] ?? '')))
        return set([control, control], at + 1);
      if (/[1-9]/.test(char) || char === 'k') return `back references ("\\${char}") cannot be used in a profile`;
      if (/[A-Za-z0]/.test(char)) return `the escape "\\${char}" is not known`;
      const code = char.charCodeAt(0);
      return set([code, code], at + 1);
    }
  }
}

/** The class whose text begins at `at`, after its "[". A string says what is wrong. */
export function readClass(pattern: string, at: number): Read {
  const ranges: number[] = [];
  let next = at;
  const not = pattern[next] === '^';
  if (not) next += 1;

  const item = (): Read => {
    const char = pattern[next];
    if (char === undefined) return 'a "[" is never closed';
    if (char === '\\') return pattern[next + 1] === 'b' ? set([8, 8], next + 2) : readEscape(pattern, next + 1);
    return set([char.charCodeAt(0), char.charCodeAt(0)], next + 1);
  };

  while (pattern[next] !== ']') {
    const from = item();
    if (typeof from === 'string') return from;
    next = from.next;
    if (pattern[next] !== '-' || pattern[next + 1] === ']' || pattern[next + 1] === undefined) {
      ranges.push(...from.set.ranges);
      continue;
    }
    const dash = next;
    next += 1;
    const to = item();
    if (typeof to === 'string') return to;
    const [first, firstLast] = from.set.ranges;
    const [last, lastLast] = to.set.ranges;
    if (from.set.ranges.length !== 2 || to.set.ranges.length !== 2 || first !== firstLast || last !== lastLast)
      return `the range at position ${dash + 1} needs one character on either side`;
    if ((first ?? 0) > (last ?? 0)) return `the range at position ${dash + 1} is out of order`;
    ranges.push(first ?? 0, last ?? 0);
    next = to.next;
  }
  return { set: { not, ranges }, next: next + 1 };
}

/** Whether the UTF-16 code is in the set. */
export function holds(set: CharacterSet, code: number): boolean {
  for (let i = 0; i < set.ranges.length; i += 2)
    if (code >= (set.ranges[i] ?? 0) && code <= (set.ranges[i + 1] ?? 0)) return !set.not;
  return set.not;
}
