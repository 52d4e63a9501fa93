import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readJson } from '../../../shared/model/validation/json-text.ts';

const problem = (text: string): string => {
  const read = readJson(text);
  return read.ok ? 'none' : read.problem;
};

// Lines and columns counted by hand; what may stand where: RFC 8259, 2 to 7.
describe('a text that is no JSON', () => {
  it.each([
    ['{ "name": ', 'line 1, column 11: a value belongs there, but the file ends'],
    ['{', 'line 1, column 2: a name in quotation marks or "}" belongs there, but the file ends'],
    ['{\n  "a": 1,\n}', 'line 3, column 1: a name in quotation marks belongs there, not "}"'],
    ['[1, 2, ]', 'line 1, column 8: a value belongs there, not "]"'],
    ['[?', 'line 1, column 2: a value or "]" belongs there, not "?"'],
    ['{"a": NaN}', 'line 1, column 7: a value belongs there, not "N"'],
    ["{'a': 1}", `line 1, column 2: a name in quotation marks or "}" belongs there, not "'"`],
    ['{"a" 1}', 'line 1, column 6: ":" belongs there, not "1"'],
    ['{"a": 1 "b": 2}', 'line 1, column 9: "," or "}" belongs there, not a quotation mark'],
    ['{"a": 012}', 'line 1, column 8: "," or "}" belongs there, not "1"'],
    ['{"a": 1}\r\n\r\nx', 'line 3, column 1: nothing more belongs there, not "x"'],
    ['{"µ😀": "a\nb"}', 'line 1, column 10: the quotation mark that ends the text belongs there, not a line break'],
    ['"abc', 'line 1, column 5: the quotation mark that ends the text belongs there, but the file ends'],
    [String.raw`"C:\data"`, String.raw`line 1, column 5: after a backslash only ", \, /, b, f, n, r, t or u with four digits belongs there, not "d"`], // prettier-ignore
    ['name = gauge', 'line 1, column 1: a value belongs there, not "n"'],
  ])('is told with the place where it goes wrong: %j', (text, says) => {
    expect(problem(text)).toBe(`it is no JSON: ${says}`);
  });

  it.each(['', ' \n', '\uFEFF'])('that holds nothing is called empty: %j', (text) => {
    expect(problem(text)).toBe('it is empty');
  });

  it.each([
    ['utf-16le', [0xff, 0xfe, 0x7b, 0, 0x7d, 0]],
    ['utf-16be', [0, 0x7b, 0, 0x7d]],
  ])('in %s is said to be no UTF-8', (_name, bytes) => {
    // prettier-ignore
    expect(problem(new TextDecoder().decode(Uint8Array.from(bytes)))).toBe(
      'it is not UTF-8 text; save it anew as UTF-8',
    );
  });

  it('has its place right wherever a stray character falls', () => {
    // Numbers and words that are not cut in two by it: what is before the character is right.
    const leaf = fc.oneof(fc.nat(), fc.string({ unit: fc.constantFrom('a', 'ß', '😀') }));
    const { tree } = fc.letrec<{ tree: unknown }>((tie) => ({
      tree: fc.oneof(
        { maxDepth: 4 },
        leaf,
        fc.array(tie('tree'), { maxLength: 3 }),
        fc.dictionary(fc.string({ unit: fc.constantFrom('a', 'ß') }), tie('tree'), { maxKeys: 3 }),
      ),
    }));
    fc.assert(
      fc.property(tree, fc.nat(), (value, where) => {
        const characters = Array.from(JSON.stringify(value, undefined, 1));
        const at = where % (characters.length + 1);
        const before = characters.slice(0, at);
        const line = before.filter((character) => character === '\n').length + 1;
        const column = at - (before.lastIndexOf('\n') + 1) + 1;
        expect(problem([...before, '\u0001', ...characters.slice(at)].join(''))).toMatch(
          `it is no JSON: line ${line}, column ${column}: `,
        );
      }),
      { numRuns: 500 },
    );
  });
});

describe('a text that is JSON', () => {
  it.each(['{"a": [1, -2.5e3, true, null]}', '\uFEFF{"a": [1, -2.5e3, true, null]}'])('is read: %j', (text) => {
    expect(readJson(text)).toEqual({ ok: true, value: { a: [1, -2500, true, null] } });
  });
});
