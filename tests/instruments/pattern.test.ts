import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compilePattern } from '../../shared/instruments/pattern/compile-pattern.ts';

function groupsOf(pattern: string, text: string): Record<string, string> | undefined {
  const compiled = compilePattern(pattern);
  if (!compiled.ok) throw new Error(`${pattern}: ${compiled.problem}`);
  const found = compiled.pattern.match(text);
  return found && Object.fromEntries(found);
}

/** What the engine of the language itself finds (ECMAScript, as a rule without flags): the outside check. */
function ecmaGroups(pattern: string, text: string, flags = ''): Record<string, string> | undefined {
  const found = new RegExp(pattern, flags).exec(text);
  if (!found) return undefined;
  return Object.fromEntries(Object.entries(found.groups ?? {}).filter(([, value]) => value !== undefined)) as Record<
    string,
    string
  >;
}

interface Part {
  text: string;
  mayBeEmpty: boolean;
}

/**
 * Patterns of all that is allowed. Named groups stand outside of any repeat: there ECMAScript forgets what a group took in an earlier round,
 * which no engine does that goes forward only.
 */
const { anyPattern } = fc.letrec<{ one: Part; repeated: Part; run: Part; choice: Part; anyPattern: string }>((tie) => ({
  one: fc.oneof(
    { maxDepth: 3, withCrossShrink: true },
    fc
      .constantFrom(
        ...'ab1 /-]}\u00b5'.split(''),
        '.',
        '\\d',
        '\\D',
        '\\w',
        '\\W',
        '\\s',
        '\\S',
        '\\.',
        '\\t',
        '\\x41',
        '\\u00b5',
        '{,2}',
      )
      .map((text) => ({ text, mayBeEmpty: false })),
    fc
      .constantFrom(
        '[ab]',
        '[^a]',
        '[a-z]',
        '[\\s,]',
        '[^\\S]',
        '[\\D1]',
        '[^\\W_]',
        '[]',
        '[^]',
        '[[:a]',
        '[\\]\\-]',
        '[+\\-.]',
        '[\\b]',
      )
      .map((text) => ({ text, mayBeEmpty: false })),
    fc.constantFrom('^', '$', '\\b', '\\B').map((text) => ({ text, mayBeEmpty: true })),
    fc
      .tuple(fc.constantFrom('(', '(?:'), tie('choice'))
      .map(([open, { text, mayBeEmpty }]) => ({ text: `${open}${text})`, mayBeEmpty })),
  ),
  repeated: fc
    .tuple(tie('one'), fc.constantFrom('', '', '', '*', '+', '?', '*?', '+?', '??', '{2}', '{1,3}', '{2,}?', '{0,2}'))
    .map(([{ text, mayBeEmpty }, times]) =>
      mayBeEmpty || times === '' ? { text, mayBeEmpty } : { text: text + times, mayBeEmpty: /^[*?]|^\{0/.test(times) },
    ),
  run: fc.array(tie('repeated'), { maxLength: 4 }).map((parts) => ({
    text: parts.map(({ text }) => text).join(''),
    mayBeEmpty: parts.every(({ mayBeEmpty }) => mayBeEmpty),
  })),
  choice: fc.array(tie('run'), { minLength: 1, maxLength: 3 }).map((options) => ({
    text: options.map(({ text }) => text).join('|'),
    mayBeEmpty: options.some(({ mayBeEmpty }) => mayBeEmpty),
  })),
  anyPattern: fc
    .tuple(tie('run'), tie('choice'), tie('run'), tie('choice'), tie('run'))
    .map(([a, b, c, d, e]) => `${a.text}(?<a>${b.text})${c.text}(?<b>${d.text})${e.text}`),
}));
const anyLine = fc.string({
  unit: fc.constantFrom(...'ab1A ,.-/]}{[:'.split(''), '\u00b5', '\t', '\r', '\n', '\v', '\b', '\u00a0', '\u2028'),
  maxLength: 10,
});

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
    ['(?<a>[[:digit:]]+)', ['[]', 'd]]]', '5']],
    ['x[](?<a>y)|(?<b>[^]+)', ['xy', 'a\nb']],
    ['(?<a>[\\S ]+)[\\s,](?<b>[^\\S\\r]+)', ['a b\u00a0\u2028', 'a,\t\v', 'a,b']],
    ['(?<a>\\/\\-\\\u00b5[\\b]\\0\\v\\cA)', ['/-\u00b5\b\0\v\u0001', '/-']],
    ['(?<a>x{1200}|y)(?<b>z{0,100})', ['yzz', 'xx']],
    ['(?<a>(?:[\\d.]{50},){3,28}|x{2}(?:y{3}){400})', [`${'1.234'.repeat(10)},`.repeat(4), 'xxy']],
    ['{x}(?<a>[\\d-]+)]', ['{x}4-5]', '{x}']],
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

  it('takes for white space, digit, letter and line end what the language takes for it', () => {
    for (const set of ['\\s', '\\S', '\\d', '\\D', '\\w', '\\W', '.', '[^\\s]', '[^\\W]', '[\\S]', '[^]']) {
      const compiled = compilePattern(`^(?<a>${set})$`);
      if (!compiled.ok) throw new Error(compiled.problem);
      const ecma = new RegExp(`^${set}$`);
      const differ: number[] = [];
      for (let code = 0; code <= 0xffff; code += 1) {
        const text = String.fromCharCode(code);
        if ((compiled.pattern.match(text) !== undefined) !== ecma.test(text)) differ.push(code);
      }
      expect([set, differ]).toEqual([set, []]);
    }
  });

  it.each([
    ['^(?<a>.)(?<b>[^x]+)$', ['\u{1f525}', '\u{1f525}\u{1f525}', '\u{1f525}x']],
    ['(?<a>\u{1f525}+)(?<b>[\u{1f525}\u00b5]*)', ['\u{1f525}\u{1f525}\u00b5', 'x']],
    ['(?<a>\\ud83d\\udd25{2})', ['\u{1f525}\u{1f525}', '\u{1f525}\udd25']],
  ])('counts in %s a character beyond U+FFFF as one, as the language does with the flag u', (pattern, texts) => {
    for (const text of texts) expect([text, groupsOf(pattern, text)]).toEqual([text, ecmaGroups(pattern, text, 'u')]);
  });

  it('finds the same for random patterns of all that is allowed', () => {
    fc.assert(
      fc.property(anyPattern, fc.array(anyLine, { minLength: 1, maxLength: 5 }), (regex, lines) => {
        for (const line of lines) expect(groupsOf(regex, line)).toEqual(ecmaGroups(regex, line));
      }),
      { numRuns: 5000 },
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
    // As large as is allowed.
    '(?<a>(?:[a-c]{1,100}d?){1,7}\\d)',
  ])('answers %s on its worst line at once', (pattern) => {
    const text = `${'a'.repeat(511)}!`;
    const before = performance.now();
    expect(groupsOf(pattern, text)).toBeUndefined();
    // Hours apart from what is being ruled out; milliseconds in fact.
    expect(performance.now() - before).toBeLessThan(2000);
  });

  it.each([
    ['(', 'unterminated group after "("'],
    ['a)', `unmatched ')' after "a"`],
    ['[a', 'unterminated character class after "[a"'],
    ['a**', 'nothing to repeat after "a**"'],
    ['*a', 'nothing to repeat after "*"'],
    ['P=(?<pilot_pressure>\\d+)^{2}V', 'nothing to repeat after "...ot_pressure>\\d+)^{2}"'],
    ['a{3,2}', 'numbers out of order in {} quantifier after "a{3,2}"'],
    ['[b-a]', 'range out of order in character class after "[b-a"'],
    ['\\', '\\ at end of pattern'],
    ['a\\q', 'the escape "\\q" at position 2 is not known'],
    ['\\x4', 'the escape "\\x" at position 1 is not known or not complete'],
    ['\\pL', 'the escape "\\p" at position 1 is not known'],
    ['[\\B]', 'the escape "\\B" at position 2 is not known'],
    ['\\c', 'the escape "\\" at position 1 is not known or not complete'],
    ['(?<a>x)(?<a>y)', 'duplicate capture group name after'],
    ['(?i:x)', 'invalid group after "("'],
    ['x(?=x)', 'look-ahead and look-behind, such as "(?=x)" at position 2,'],
    ['(?:a(?<!x))', 'look-ahead and look-behind, such as "(?<!x)" at position 5,'],
    ['(?<a>x)\\k<a>', 'back references, such as "\\k<a>" at position 8,'],
    ['(x)\\1', 'back references, such as "\\1" at position 4,'],
    ['\\1', 'back references, such as "\\1" at position 1,'],
    ['('.repeat(40), 'unterminated group'],
    ['(?:a{1,100}){1,100}', 'too large'],
    [`(?:x{${'9'.repeat(150)}}){0}(?:y{${'9'.repeat(150)}}){1,100}(?:a{1,100}){1,100}`, 'too large'],
    ['a{1,1000}'.repeat(40), 'too large'],
    [`x{${'9'.repeat(300)}}`.repeat(2), 'too large'],
  ])('refuses %s in words that name the place', (pattern, why) => {
    const compiled = compilePattern(pattern);
    expect(compiled.ok ? 'accepted' : compiled.problem).toContain(why);
  });

  it('never throws on any text given as a pattern', () => {
    fc.assert(
      fc.property(
        fc.string({ unit: fc.constantFrom(...'ab()[]{}*+?|^$\\.-,<>=!:19kudw'.split('')), maxLength: 30 }),
        (pattern) => {
          const compiled = compilePattern(pattern);
          if (compiled.ok) compiled.pattern.match('ab1 a-b');
          else expect(compiled.problem).not.toBe('');
        },
      ),
      { numRuns: 5000 },
    );
  });
});
