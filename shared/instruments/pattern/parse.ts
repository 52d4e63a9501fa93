import { readClass, readEscape } from './character-set.ts';
import type { CharacterSet } from './character-set.ts';

/** A pattern taken apart. `group` counts capturing groups from 1. */
export type Node =
  | { kind: 'set'; set: CharacterSet }
  | { kind: 'sequence'; parts: Node[] }
  | { kind: 'choice'; options: Node[] }
  | { kind: 'group'; group: number; body: Node }
  | { kind: 'repeat'; body: Node; least: number; most: number; greedy: boolean }
  | { kind: 'assert'; at: 'start' | 'end' | 'boundary' | 'inside' };

export type Parsed =
  | { ok: true; node: Node; /** name or undefined by group number - 1 */ groups: (string | undefined)[] }
  | { ok: false; problem: string };

class PatternProblem extends Error {}

/**
 * Parses a regular expression of the everyday kind: literals, classes, `.`, escapes, groups (plain, `(?:`, `(?<name>`),
 * `|`, `* + ? {m,n}` with `?` for lazy, `^ $ \b \B`.
 *
 * Back references and look-around are refused: without them a match takes time in proportion to pattern times line,
 * whatever the pattern, so that no pattern can hang the program (Thompson 1968, CACM 11 (6), 419; see match.ts).
 */
export function parsePattern(pattern: string): Parsed {
  try {
    const state: State = { pattern, at: 0, groups: [], depth: 0 };
    const node = choice(state);
    if (state.at < pattern.length) throw new PatternProblem(`a ")" at position ${state.at + 1} closes nothing`);
    return { ok: true, node, groups: state.groups };
  } catch (error) {
    if (error instanceof PatternProblem) return { ok: false, problem: error.message };
    throw error;
  }
}

interface State {
  pattern: string;
  at: number;
  groups: (string | undefined)[];
  depth: number;
}

function choice(state: State): Node {
  const options = [sequence(state)];
  while (state.pattern[state.at] === '|') {
    state.at += 1;
    options.push(sequence(state));
  }
  return options.length === 1 && options[0] ? options[0] : { kind: 'choice', options };
}

function sequence(state: State): Node {
  const parts: Node[] = [];
  for (;;) {
    const next = state.pattern[state.at];
    if (next === undefined || next === '|' || next === ')') return { kind: 'sequence', parts };
    const part = atom(state);
    parts.push(quantified(state, part));
  }
}

function atom(state: State): Node {
  const { pattern } = state;
  const here = state.at;
  const char = pattern[here] ?? '';
  state.at += 1;
  switch (char) {
    case '^':
      return { kind: 'assert', at: 'start' };
    case '$':
      return { kind: 'assert', at: 'end' };
    case '(':
      return group(state, here);
    case '[': {
      const read = readClass(pattern, state.at);
      if (typeof read === 'string') throw new PatternProblem(read);
      state.at = read.next;
      return { kind: 'set', set: read.set };
    }
    case '\\':
      return escape(state);
    case '.':
      return { kind: 'set', set: { not: true, ranges: [10, 10, 13, 13, 0x2028, 0x2029] } };
    case '*':
    case '+':
    case '?':
      throw new PatternProblem(`"${char}" at position ${here + 1} has nothing before it to repeat`);
    default: {
      if (char === '{' && /^\{\d+(?:,\d*)?\}/.test(pattern.slice(here)))
        throw new PatternProblem(`"{" at position ${here + 1} has nothing before it to repeat`);
      const code = char.charCodeAt(0);
      return { kind: 'set', set: { not: false, ranges: [code, code] } };
    }
  }
}

function escape(state: State): Node {
  const next = state.pattern[state.at];
  if (next === 'b' || next === 'B') {
    state.at += 1;
    return { kind: 'assert', at: next === 'b' ? 'boundary' : 'inside' };
  }
  const read = readEscape(state.pattern, state.at);
  if (typeof read === 'string') throw new PatternProblem(read);
  state.at = read.next;
  return { kind: 'set', set: read.set };
}

// A pattern has 400 characters at most; nesting deeper than this is no one's line format.
const deepest = 30;

function group(state: State, opened: number): Node {
  const rest = state.pattern.slice(state.at);
  let number: number | undefined;
  const named = /^\?<([A-Za-z_]\w*)>/.exec(rest);
  if (named?.[1]) {
    if (state.groups.includes(named[1])) throw new PatternProblem(`two groups are called ${named[1]}`);
    number = state.groups.push(named[1]);
    state.at += named[0].length;
  } else if (rest.startsWith('?:')) {
    state.at += 2;
  } else if (/^\?<?[=!]/.test(rest)) {
    throw new PatternProblem('look-ahead and look-behind, (?=...) and the like, cannot be used in a profile');
  } else if (rest.startsWith('?')) {
    throw new PatternProblem(`the group at position ${opened + 1} is of a kind that cannot be used in a profile`);
  } else {
    number = state.groups.push(undefined);
  }
  state.depth += 1;
  if (state.depth > deepest) throw new PatternProblem(`groups are nested more than ${deepest} deep`);
  const body = choice(state);
  state.depth -= 1;
  if (state.pattern[state.at] !== ')') throw new PatternProblem(`the "(" at position ${opened + 1} is never closed`);
  state.at += 1;
  return number === undefined ? body : { kind: 'group', group: number, body };
}

function quantified(state: State, body: Node): Node {
  const match = /^(?:[*+?]|\{(\d+)(?:(,)(\d*))?\})(\??)/.exec(state.pattern.slice(state.at));
  if (!match) return body;
  const [whole, exact, comma, upper, lazy] = match;
  const position = state.at + 1;
  if (body.kind === 'assert') throw new PatternProblem(`"${whole}" at position ${position} repeats an anchor`);
  state.at += whole.length;
  if (/^(?:[*+?]|\{\d+(?:,\d*)?\})/.test(state.pattern.slice(state.at)))
    throw new PatternProblem(`"${whole}" at position ${position} is followed by another repeat`);
  let least = whole.startsWith('+') ? 1 : 0;
  let most = whole.startsWith('?') ? 1 : Infinity;
  if (exact !== undefined) {
    least = Number(exact);
    most = comma === undefined ? least : upper ? Number(upper) : Infinity;
    if (most < least) throw new PatternProblem(`"${whole}" at position ${position} has its numbers out of order`);
  }
  return { kind: 'repeat', body, least, most, greedy: !lazy };
}
