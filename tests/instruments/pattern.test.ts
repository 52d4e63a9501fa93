import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compilePattern } from '../../shared/instruments/pattern/compile.ts';
import { matchPattern } from '../../shared/instruments/pattern/match.ts';
import { parsePattern } from '../../shared/instruments/pattern/parse.ts';

function groupsOf(pattern: string, text: string): Record<string, string> | undefined {
  const parsed = parsePattern(pattern);
  if (!parsed.ok) throw new Error(parsed.problem);
  const compiled = compilePattern(parsed.node, parsed.groups);
  if (!compiled.ok) throw new Error(compiled.problem);
  const found = matchPattern(compiled.program, text);
  return found && Object.fromEntries(found);
}

/** What the engine of the language itself finds (ECMAScript, without flags): the outside check. */
function ecmaGroups(pattern: string, text: string): Record<string, string> | undefined {
  const found = new RegExp(pattern).exec(text);
  if (!found) return undefined;
  return Object.fromEntries(Object.entries(found.groups ?? {}).filter(([, value]) => value !== undefined)) as Record<
    string,
    string
  >;
}

describe('the pattern matcher', () => {
  it.each([
    ['^(?<a>[+-]?\\d+(?:\\.\\d*)?)\\s*(?<b>[A-Za-z]+)?$', ['2.31 V', '-5', '2.31V', 'x 2']],
    ['(?<a>a|ab)(?<b>c|bcd)(?<c>d*)', ['abcd', 'abc', 'acd']],
    ['(?<a>a*?)(?<b>a*)', ['aaa', '']],
    ['(?<a>x{2,3}?)(?<b>x*)', ['xxxxx', 'xx', 'x']],
    ['\\b(?<a>\\w+)\\b[^\\w]+\\B', ['  abc -- ', 'abc']],
    ['(?<a>[^,;]*)[,;](?<b>[\\]\\-a-c]+)', ['2.3;]-a', ',b']],
    ['(?<a>.)$', ['ab\u00b5', 'a\n']],
    ['(?<a>(?:ab?)+)(?<b>b)', ['ababb', 'aab', 'ab']],
    ['x(?<a>\\x41\\u0042\\t)', ['xAB\t', 'xAB']],
    ['(?<a>a|b|)c', ['ac', 'c', 'bc', 'd']],
    ['a{2}(?<a>a{,3})', ['aaa{,3}', 'aaa']],
  ])('finds in %s what the engine of the language finds', (pattern, texts) => {
    for (const text of texts) expect([text, groupsOf(pattern, text)]).toEqual([text, ecmaGroups(pattern, text)]);
  });

  it('finds the same for random patterns and lines', () => {
    const set = fc.constantFrom('a', 'b', '.', '[ab]', '[^a]', '\\d', '\\w', '1', ' ');
    const repeat = fc.constantFrom('', '', '', '+', '*', '?', '{1,2}', '+?', '*?', '{2}');
    const piece = fc.tuple(set, repeat).map(([one, times]) => one + times);
    const run = fc.array(piece, { minLength: 1, maxLength: 4 }).map((pieces) => pieces.join(''));
    // What may be empty is refused under a repeat, so an optional group holds a character on each side at least.
    const plainGroup = fc.tuple(run, run).map(([x, y]) => `(?:${x}|${y})`);
    const optionalGroup = fc.tuple(set, run, set, run).map(([a, x, b, y]) => `(?:${a}${x}|${b}${y})?`);
    const group = fc.oneof(plainGroup, optionalGroup);
    const pattern = fc
      .tuple(fc.constantFrom('', '^'), run, group, run, fc.constantFrom('', '$'))
      .map(([start, a, b, c, end]) => `${start}(?<a>${a})${b}(?<b>${c})${end}`);
    const line = fc.string({ unit: fc.constantFrom('a', 'b', '1', ' ', '\u00b5'), maxLength: 12 });
    fc.assert(
      fc.property(pattern, line, (regex, text) => {
        expect(groupsOf(regex, text)).toEqual(ecmaGroups(regex, text));
      }),
      { numRuns: 3000 },
    );
  });

  it.each(['(?<a>x*)+', '(?:a|)?b', '(?:a*b?){2,3}', '(?:\\b)*x', '(?<p>(?:\\d*)*)'])(
    'refuses %s, which repeats nothing',
    (pattern) => {
      expect(() => groupsOf(pattern, 'xab')).toThrow('may be empty');
    },
  );

  // Each of these takes a backtracking engine longer than the age of the boiler.
  it.each([
    '^(?<a>(a+)+)$',
    '^(?<a>(a|aa)+)$',
    '^(?<a>(a|a)*)$',
    '^(?<a>(.*a){12})$',
    '(?<a>([a-zA-Z]+)*)\\d$',
    '^(?<a>(((a+)+)+)+)$',
  ])('answers %s on its worst line at once', (pattern) => {
    const text = `${'a'.repeat(511)}!`;
    const before = performance.now();
    expect(groupsOf(pattern, text)).toBeUndefined();
    // Hours apart from what is being ruled out; milliseconds in fact.
    expect(performance.now() - before).toBeLessThan(2000);
  });

  it.each([
    ['(', 'never closed'],
    [')', 'closes nothing'],
    ['[a', 'never closed'],
    ['a**', 'another repeat'],
    ['*a', 'nothing before it'],
    ['a{3,2}', 'out of order'],
    ['[b-a]', 'out of order'],
    ['\\', 'lone backslash'],
    ['\\q', 'not known'],
    ['(?<a>x)(?<a>y)', 'two groups'],
    ['(?=x)', 'look-ahead'],
    ['(?<!x)', 'look-behind'],
    ['(?<a>x)\\k<a>', 'back references'],
    ['('.repeat(40), 'nested'],
  ])('refuses %s in words', (pattern, why) => {
    const parsed = parsePattern(pattern);
    expect(parsed.ok ? 'accepted' : parsed.problem).toContain(why);
  });

  it('never throws on any text given as a pattern', () => {
    fc.assert(
      fc.property(
        fc.string({ unit: fc.constantFrom(...'ab()[]{}*+?|^$\\.-,<>=!:19kudw'.split('')), maxLength: 30 }),
        (pattern) => {
          const parsed = parsePattern(pattern);
          if (!parsed.ok) return;
          const compiled = compilePattern(parsed.node, parsed.groups);
          if (compiled.ok) matchPattern(compiled.program, 'ab1 a-b');
        },
      ),
      { numRuns: 5000 },
    );
  });
});
