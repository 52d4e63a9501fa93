/** A JSON value, or what is wrong with the text as a part of a sentence: "it is no JSON: line 2, column 5: ...". */
export type JsonRead = { ok: true; value: unknown } | { ok: false; problem: string };

/** Most characters of a JSON file. What is read is a few pages long, or a few notes longer; finding a fault in more takes too much memory. */
const mostCharacters = 5_000_000;

/** Reads the JSON of a file, with or without a byte order mark; says where it is broken. */
export function readJson(text: string): JsonRead {
  if (text.length > mostCharacters)
    return { ok: false, problem: `it holds ${text.length} characters, and at most ${mostCharacters} are taken` };
  const own = text.replace(/^\uFEFF/, '');
  // In UTF-16 every other byte of plain letters is NUL, and its byte order mark is no UTF-8.
  if (own.includes('\u0000') || own.startsWith('\uFFFD'))
    return { ok: false, problem: 'it is not UTF-8 text; save it anew as UTF-8' };
  if (own.trim() === '') return { ok: false, problem: 'it is empty' };
  try {
    return { ok: true, value: JSON.parse(own) };
  } catch {
    const { at, wanted } = firstFault(own);
    const there = own.codePointAt(at);
    const found = there === undefined ? 'but the file ends' : `not ${shown(String.fromCodePoint(there))}`;
    return { ok: false, problem: `it is no JSON: ${placeOf(own, at)}: ${wanted} belongs there, ${found}` };
  }
}

/** Line and column, both counted from 1; the column in characters. */
function placeOf(text: string, at: number): string {
  const lines = text.slice(0, at).split(/\r\n|\r|\n/);
  return `line ${lines.length}, column ${Array.from(lines.at(-1) ?? '').length + 1}`;
}

const shown = (character: string): string =>
  character === '\n' || character === '\r' ? 'a line break' : character === '"' ? 'a quotation mark' : `"${character}"`;

interface JsonFault {
  at: number;
  wanted: string;
}

const blanks = /[ \t\n\r]*/y;
const plainValue = /(?:-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?|true|false|null)/y;

const lengthAt = (pattern: RegExp, text: string, at: number): number => {
  pattern.lastIndex = at;
  return pattern.exec(text)?.[0].length ?? 0;
};

const aName = 'a name in quotation marks';
const wantedAt = {
  value: 'a value',
  'value-or-end': 'a value or "]"',
  name: aName,
  'name-or-end': `${aName} or "}"`,
  colon: '":"',
};

/**
 * Where a text that is no JSON first leaves the grammar: RFC 8259, 2 to 7. The engine's own message gives no place for every fault, and
 * its words differ from one version to the next.
 */
function firstFault(text: string): JsonFault {
  const open: ('{' | '[')[] = [];
  let next: keyof typeof wantedAt | 'after' = 'value';
  let at = 0;
  for (;;) {
    at += lengthAt(blanks, text, at);
    const character = text[at];
    const inside = open.at(-1);
    if (next === 'after') {
      if (inside === undefined) return { at, wanted: 'nothing more' };
      if (character === ',') next = inside === '{' ? 'name' : 'value';
      else if (character === closing[inside]) open.pop();
      else return { at, wanted: `"," or "${closing[inside]}"` };
      at += 1;
    } else if (next.endsWith('-or-end') && inside && character === closing[inside]) {
      open.pop();
      next = 'after';
      at += 1;
    } else if (next === 'colon') {
      if (character !== ':') return { at, wanted: wantedAt.colon };
      next = 'value';
      at += 1;
    } else if (character === '"') {
      const end = endOfString(text, at + 1);
      if (typeof end !== 'number') return end;
      at = end;
      next = next.startsWith('name') ? 'colon' : 'after';
    } else if (next.startsWith('name')) {
      return { at, wanted: wantedAt[next] };
    } else if (character === '{' || character === '[') {
      open.push(character);
      next = character === '{' ? 'name-or-end' : 'value-or-end';
      at += 1;
    } else {
      const length = lengthAt(plainValue, text, at);
      if (length === 0) return { at, wanted: wantedAt[next] };
      at += length;
      next = 'after';
    }
  }
}

const closing = { '{': '}', '[': ']' } as const;
const escape = /\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4})/y;

/** The place after the quotation mark that ends the string, or what is wrong in it. */
function endOfString(text: string, from: number): number | JsonFault {
  let at = from;
  while (at < text.length && text[at] !== '"') {
    if (text[at] === '\\') {
      const length = lengthAt(escape, text, at);
      if (length === 0)
        return { at: at + 1, wanted: String.raw`after a backslash only ", \, /, b, f, n, r, t or u with four digits` };
      at += length;
    } else if (text.charCodeAt(at) < 0x20) return { at, wanted: 'the quotation mark that ends the text' };
    else at += 1;
  }
  return at < text.length ? at + 1 : { at, wanted: 'the quotation mark that ends the text' };
}
