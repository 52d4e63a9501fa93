import fc from 'fast-check';
import { expect } from 'vitest';

/** Mutations of each kind that are tried: a few in `npm test`, 1000 in `npm run attack`. */
const mutations = Number(process.env['PILOT_BENCH_MUTATIONS'] ?? 100);
const seed = Number(process.env['PILOT_BENCH_SEED'] ?? 20_261_127);

// Some milliseconds each on an idle machine.
const longestMs = 5000;

/**
 * Draws mutations and fails on the first one after which `attack` throws or takes too long; fast-check prints it, shrunk.
 * @param attack  gives whether the mutation was accepted; of enough mutations, some are, or nothing is tried behind the first check
 */
export function tryMutations<T>(of: string, mutated: fc.Arbitrary<T>, attack: (mutation: T) => boolean): void {
  let accepted = 0;
  fc.assert(
    fc.property(mutated, (mutation) => {
      const startMs = performance.now();
      if (attack(mutation)) accepted += 1;
      expect(performance.now() - startMs).toBeLessThan(longestMs);
    }),
    { seed, numRuns: mutations },
  );
  process.stdout.write(`${mutations} mutations of ${of}, ${accepted} accepted: PILOT_BENCH_SEED=${seed}\n`);
  if (mutations >= 1000) expect(accepted).toBeGreaterThan(0);
}

/** What is refused is refused in words. */
export function isRefused({ message }: { message: string }): false {
  expect(message).toMatch(/\w+ .*[.!]$/su);
  return false;
}

/** A place in something of any length: 0 its beginning, 1 its end. */
const place = fc.nat(1_000_000).map((n) => n / 1_000_000);

interface Edit<T> {
  at: number;
  removed: number;
  /** Absent: what is removed comes again twice. */
  inserted: T | undefined;
}

const edits = <T>(inserted: fc.Arbitrary<T>): fc.Arbitrary<Edit<T>[]> =>
  fc.array(
    fc.record({
      at: place,
      removed: fc.oneof(fc.constantFrom(0, 1, 1, 4), fc.nat(400)),
      inserted: fc.option(inserted, { nil: undefined, freq: 5 }),
    }),
    { minLength: 1, maxLength: 4 },
  );

/** Bytes of which some are removed, replaced, repeated or added. */
export const mutatedBytes = (original: Uint8Array, hostile: readonly number[][]): fc.Arbitrary<Uint8Array> =>
  edits(
    fc.oneof(fc.uint8Array({ maxLength: 4 }), fc.constantFrom(...hostile.map((bytes) => Uint8Array.from(bytes)))),
  ).map((all) =>
    all.reduce<Uint8Array>((bytes, { at, removed, inserted }) => {
      const from = Math.floor(at * bytes.length);
      const cut = bytes.subarray(from, from + removed);
      return Uint8Array.from([
        ...bytes.subarray(0, from),
        ...(inserted ?? [...cut, ...cut]),
        ...bytes.subarray(from + removed),
      ]);
    }, original),
  );

/** Text that was mutated alike. */
export const mutatedText = (original: string, hostile: readonly string[]): fc.Arbitrary<string> =>
  edits(fc.oneof(fc.string({ unit: 'binary', maxLength: 4 }), fc.constantFrom(...hostile))).map((all) =>
    all.reduce((text, { at, removed, inserted }) => {
      const from = Math.floor(at * text.length);
      const cut = text.slice(from, from + removed);
      return text.slice(0, from) + (inserted ?? cut + cut) + text.slice(from + removed);
    }, original),
  );

// prettier-ignore
const hostileValues: readonly unknown[] = [
  null, true, false, 0, -0, -1, 0.5, 1.5, 6, 16, 2 ** 31, 2 ** 53, 1e304, -1e308, 5e-324, Number.MAX_VALUE,
  '', ' ', '0', 'NaN', '__proto__', 'constructor', '\u0000', '\u001B[2J', ':010600010001F7\r\n', 'x'.repeat(10_000), '(a+)+$',
  [], [[]], {}, { value: 1 }, { length: 2 ** 32 }, Array.from({ length: 2000 }, () => 0),
];

/** A JSON value of which one or two parts are replaced, removed or renamed. */
export const mutatedJson = (original: unknown): fc.Arbitrary<unknown> => {
  const change = fc.oneof(
    { weight: 4, arbitrary: fc.constantFrom(...hostileValues) },
    fc.jsonValue(),
    fc.constantFrom(removal, renaming),
  );
  return fc
    .array(fc.tuple(place, change), { minLength: 1, maxLength: 2 })
    .map((changes) => changes.reduce((json, [at, change]) => changePart(json, at, change), original));
};

const removal = Symbol('removal');
const renaming = Symbol('renaming');

function changePart(original: unknown, at: number, change: unknown): unknown {
  const json: unknown = structuredClone(original);
  const parts = partsOf(json);
  const part = parts[Math.floor(at * parts.length)] ?? parts.at(-1);
  if (!part) return change;
  const { holder, key } = part;
  if (change === renaming) holder[`${key}x`] = holder[key];
  if (change === renaming || change === removal) delete holder[key];
  else holder[key] = change;
  return json;
}

type Holder = Record<string, unknown>;

function partsOf(json: unknown): { holder: Holder; key: string }[] {
  if (typeof json !== 'object' || json === null || json instanceof Uint8Array) return [];
  const holder = json as Holder;
  return Object.keys(holder).flatMap((key) => [{ holder, key }, ...partsOf(holder[key])]);
}
