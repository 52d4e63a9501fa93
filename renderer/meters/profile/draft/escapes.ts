const names = new Map([
  ['\n', String.raw`\n`],
  ['\r', String.raw`\r`],
  ['\t', String.raw`\t`],
  ['\\', String.raw`\\`],
]);

/** Text with its control characters as escapes: line feed `\n`, carriage return `\r`, tab `\t`, others such as `\x1b`. */
export const withEscapes = (text: string): string =>
  // oxlint-disable-next-line no-control-regex
  text.replaceAll(/[\u0000-\u001f\u007f-\u009f\\]/g, (char) => {
    return names.get(char) ?? `\\x${char.charCodeAt(0).toString(16).padStart(2, '0')}`;
  });

/** The text that `shown` stands for; undefined when a backslash in it is followed by anything unknown. */
export function withoutEscapes(shown: string): string | undefined {
  let isKnown = true;
  const text = shown.replaceAll(/\\(n|r|t|\\|x[\da-f]{2}|[\s\S]?)/gi, (_all, code: string) => {
    if (code === 'n') return '\n';
    if (code === 'r') return '\r';
    if (code === 't') return '\t';
    if (code === '\\') return '\\';
    if (/^x[\da-f]{2}$/i.test(code)) return String.fromCharCode(Number.parseInt(code.slice(1), 16));
    isKnown = false;
    return '';
  });
  return isKnown ? text : undefined;
}

/** A line as received, from how the host shows it (`\x09` for a tab). */
export const rawLine = (shown: string): string =>
  shown.replaceAll(/\\(?:x([\da-f]{2})|u([\da-f]{4}))/g, (_all, two?: string, four?: string) =>
    String.fromCharCode(Number.parseInt(two ?? four ?? '', 16)),
  );
