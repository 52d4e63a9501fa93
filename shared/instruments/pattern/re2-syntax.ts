import { RegExpParser } from '@eslint-community/regexpp';
import type { AST } from '@eslint-community/regexpp';
import { maxLineLength } from '../decoded.ts';

/** Why a pattern cannot be used, in words. */
export class PatternProblem extends Error {}

// 2024: two groups may not have one name, and no flags are switched inside a pattern.
const parser = new RegExpParser({ ecmaVersion: 2024 });

/** The pattern as ECMAScript reads it without flags; throws the parser's own error where it breaks the grammar. */
export const parsePattern = (pattern: string): AST.Pattern => parser.parsePattern(pattern);

// \s and \S as ECMAScript defines them: white space and line ends of Unicode. RE2 takes blanks of ASCII only.
const space = String.raw`\t-\r \x{a0}\x{1680}\x{2000}-\x{200a}\x{2028}\x{2029}\x{202f}\x{205f}\x{3000}\x{feff}`;
const noSpace = String.raw`\x{0}-\x{8}\x{e}-\x{1f}!-\x{9f}\x{a1}-\x{167f}\x{1681}-\x{1fff}\x{200b}-\x{2027}\x{202a}-\x{202e}\x{2030}-\x{205e}\x{2060}-\x{2fff}\x{3001}-\x{fefe}\x{ff00}-\x{10ffff}`;
const anything = String.raw`\x{0}-\x{10ffff}`;
const lineEnds = String.raw`\n\r\x{2028}\x{2029}`;

/**
 * The same pattern in the syntax of RE2, its named groups as plain ones.
 *
 * The two syntaxes differ in what a letter after a backslash means, in `.`, `\s`, `[]`, `[^]` and `[[:alpha:]]`, so every part is written
 * anew from what it means and none is handed on as it stands.
 *
 * @throws {PatternProblem} for what no engine can match in linear time (look-around, back references), for escapes that mean nothing, and
 *   for repeats of what may be empty
 */
export function re2Syntax(node: AST.Node): string {
  switch (node.type) {
    case 'Pattern':
      return choice(node);
    case 'Alternative':
      return node.elements.map(re2Syntax).join('');
    case 'Group':
      return `(?:${choice(node)})`;
    case 'CapturingGroup':
      return `(${choice(node)})`;
    case 'Quantifier':
      return repeat(node);
    case 'Assertion':
      return assertion(node);
    case 'CharacterSet':
      return node.kind === 'any' ? `[^${lineEnds}]` : `[${setMembers(node)}]`;
    case 'CharacterClass':
      if (node.elements.length === 0) return `[${node.negate ? '' : '^'}${anything}]`;
      return `[${node.negate ? '^' : ''}${node.elements.map(classMember).join('')}]`;
    case 'CharacterClassRange':
      return `${character(node.min)}-${character(node.max)}`;
    case 'Character':
      return character(node);
    case 'Backreference':
      throw backReference(node);
    default:
      throw new PatternProblem(`${placed(node)} cannot be used in a profile`);
  }
}

const placed = ({ raw, start }: AST.Node): string => `"${raw}" at position ${start + 1}`;

const backReference = (node: AST.Node) =>
  new PatternProblem(`back references, such as ${placed(node)}, cannot be used in a profile`);

const choice = ({ alternatives }: { alternatives: AST.Alternative[] }): string => alternatives.map(re2Syntax).join('|');

/** Asking for several lines' characters is a slip, while what asks for a little more than one line has only never matches. */
const mostCharacters = 3 * maxLineLength;

function repeat(node: AST.Quantifier): string {
  const { element, min, max, greedy } = node;
  const characters = shortest(element);
  // Engines differ in what a repeat of nothing means; a pattern that needs it can be written without.
  if (characters === 0)
    throw new PatternProblem(`${placed(element)} may be empty, and then it cannot be repeated or optional`);
  if (min * characters > mostCharacters)
    throw new PatternProblem(`${placed(node)} asks for more characters than any line has: the count is too large`);
  // RE2 refuses counts that multiply to over 1000. No line has room for so many, and one more than it has room for means the same.
  const room = Math.floor(maxLineLength / characters) + 1;
  const most = max === Infinity ? '' : Math.min(max, room);
  return `${re2Syntax(element)}{${Math.min(min, room)},${most}}${greedy ? '' : '?'}`;
}

/** The fewest characters that the part may match; all that are too many count alike. */
function shortest(part: AST.Node): number {
  switch (part.type) {
    case 'Assertion':
      return 0;
    case 'Quantifier':
      return Math.min(part.min * shortest(part.element), mostCharacters + 1);
    case 'Group':
    case 'CapturingGroup':
      return Math.min(...part.alternatives.map(shortest));
    case 'Alternative':
      return part.elements.reduce((sum, element) => sum + shortest(element), 0);
    default:
      return 1;
  }
}

function assertion(node: AST.Assertion): string {
  switch (node.kind) {
    case 'start':
      return '^';
    case 'end':
      return '$';
    case 'word':
      return node.negate ? String.raw`\B` : String.raw`\b`;
    default:
      throw new PatternProblem(`look-ahead and look-behind, such as ${placed(node)}, cannot be used in a profile`);
  }
}

const classMember = (node: AST.CharacterClassElement): string =>
  node.type === 'CharacterSet' ? setMembers(node) : re2Syntax(node);

/** The characters of \d, \w, \s and their opposites, to stand in a class. */
const setMembers = (node: Exclude<AST.CharacterSet, AST.AnyCharacterSet>): string =>
  node.kind === 'space' ? (node.negate ? noSpace : space) : node.raw;

function character(node: AST.Character): string {
  const { raw, value } = node;
  if (/^\\[1-9]/.test(raw)) throw backReference(node);
  // ECMAScript without flags takes an unknown escape, or one cut short, for its letter: hardly ever what was meant.
  if (/^\\[A-Za-z]?$/.test(raw) && !/[bfnrtv]$/.test(raw))
    throw new PatternProblem(`the escape ${placed(node)} is not known or not complete`);
  // Halves of a character beyond U+FFFF stand beside each other and become one again.
  return value < 0x80 && !/\w/.test(String.fromCharCode(value))
    ? `\\x{${value.toString(16)}}`
    : String.fromCharCode(value);
}
