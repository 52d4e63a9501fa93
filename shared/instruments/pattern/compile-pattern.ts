import { RegExpSyntaxError, visitRegExpAST } from '@eslint-community/regexpp';
import type { AST } from '@eslint-community/regexpp';
import { RE2JS, RE2JSException } from 're2js';
import { parsePattern, PatternProblem, re2Syntax } from './re2-syntax.ts';

/** A pattern ready to be matched. */
export interface Pattern {
  /** Names of its named groups, in order. */
  names: string[];
  /** The named groups of the first match anywhere in the line, without those that took no part; undefined when it does not match. */
  match: (line: string) => Map<string, string> | undefined;
}

// A line's work is at most its 512 characters times so many instructions: a tenth of a second on a slow machine.
const mostInstructions = 1600;

/**
 * A regular expression as ECMAScript writes it, without look-around and back references: what is left can be matched in time
 * proportional to the line, whatever the pattern, so that no pattern can hang the program. Fails with a problem in words.
 *
 * The match is the one that a backtracking engine finds: leftmost, earlier choices first.
 */
export function compilePattern(source: string): { ok: true; pattern: Pattern } | { ok: false; problem: string } {
  try {
    const parsed = parsePattern(source);
    const program = RE2JS.compile(re2Syntax(parsed));
    if (program.programSize() > mostInstructions) return tooLarge;
    const groups = groupNames(parsed);
    const match = (line: string) => {
      const found = program.exec(line);
      if (!found) return undefined;
      const texts = groups.map((name, index): [string | null, string | undefined] => [name, found[index + 1]]);
      return new Map(texts.filter((text): text is [string, string] => text[0] !== null && text[1] !== undefined));
    };
    return { ok: true, pattern: { names: groups.filter((name) => name !== null), match } };
  } catch (error) {
    if (error instanceof PatternProblem) return { ok: false, problem: error.message };
    if (error instanceof RegExpSyntaxError) return { ok: false, problem: syntaxProblem(error, source) };
    // The grammar has been checked, so this is a limit on size.
    if (error instanceof RE2JSException) return tooLarge;
    throw error;
  }
}

const tooLarge = { ok: false, problem: 'its counted repeats make it too large' } as const;

/** The parser's words with the text before the place at which it stopped. */
function syntaxProblem({ message, index }: RegExpSyntaxError, source: string): string {
  const words = message.slice(`Invalid regular expression: /${source}/: `.length);
  const before = source.slice(Math.max(0, index - 20), index);
  return `${words.charAt(0).toLowerCase()}${words.slice(1)}${before && ` after "${index > 20 ? '...' : ''}${before}"`}`;
}

/** The name of each capturing group, null for one without, in order of their opening brackets. */
function groupNames(parsed: AST.Pattern): (string | null)[] {
  const names: (string | null)[] = [];
  visitRegExpAST(parsed, { onCapturingGroupEnter: ({ name }) => names.push(name) });
  return names;
}
