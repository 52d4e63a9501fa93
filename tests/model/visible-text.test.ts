import { describe, expect, it } from 'vitest';
import { visibleText } from '../../shared/model/visible-text.ts';
import { escapeMarkup } from '../../shared/report/charts/svg.ts';

/** Unicode Bidirectional Algorithm (UAX 9), table 4 and 2.6: every character that only steers the direction of writing. */
const directionControls = [
  0x061c, 0x200e, 0x200f, 0x202a, 0x202b, 0x202c, 0x202d, 0x202e, 0x2066, 0x2067, 0x2068, 0x2069,
];

describe('a name from a foreign file', () => {
  it.each(directionControls)('cannot turn the direction of a sentence: U+%d', (code) => {
    const name = `Boiler ${String.fromCodePoint(code)}1`;
    const shown = `Boiler \\u${code.toString(16).padStart(4, '0')}1`;
    expect(visibleText(name)).toBe(shown);
    expect(escapeMarkup(name)).toBe(shown);
  });

  it('shows other control characters, and leaves lines, tabs and all writing as they are', () => {
    expect(visibleText('a\u001b[2Jb')).toBe('a\\u001b[2Jb');
    expect(visibleText('Kessel „Süd“\n\tמבער 1')).toBe('Kessel „Süd“\n\tמבער 1');
  });
});
