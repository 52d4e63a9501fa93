import { type Mark, type MarkKind, markKinds } from '../model/capture.ts';
import { exactText, parseNumber } from './table.ts';

/** A mark line anywhere in a file, padded as spreadsheets do: seconds, kind and, after it, the encoded text. */
const markLines = /^[\uFEFF \t]*#[ \t]*mark:[ \t]*(\S+)[ \t]+([a-z-]+)(?:[ \t]+([^\s,;]+))?[ \t,;]*$/gmu;

const isKind = (word: string): word is MarkKind => (markKinds as readonly string[]).includes(word);

/**
 * A mark as a comment of a wide CSV: `# mark: 12.4 sweep-void wrong%20burner`. Its text is percent-encoded (RFC 3986), so that the line holds
 * no separator and no line end, and a spreadsheet gives it back without quotes.
 */
export const markLine = ({ elapsedS, kind, text }: Mark): string =>
  `# mark: ${exactText(elapsedS)} ${kind}${text === '' ? '' : ` ${encodeURIComponent(text.toWellFormed())}`}`;

/** The marks of a wide CSV, in the order of their lines; a comment that is no such line is no mark. */
export function readMarks(text: string): Mark[] {
  const marks: Mark[] = [];
  for (const [, seconds, kind, encoded = ''] of text.matchAll(markLines)) {
    const elapsedS = parseNumber(seconds!);
    const decoded = decode(encoded);
    if (Number.isFinite(elapsedS) && isKind(kind!) && decoded !== undefined)
      marks.push({ elapsedS, kind, text: decoded });
  }
  return marks;
}

/** Undefined where a hand has broken the encoding. */
function decode(encoded: string): string | undefined {
  try {
    return decodeURIComponent(encoded);
  } catch {
    return undefined;
  }
}
