import { readFileSync } from 'node:fs';
import { join } from 'node:path';

const linear = (channel: number) => (channel <= 0.04045 ? channel / 12.92 : ((channel + 0.055) / 1.055) ** 2.4);
/** The linear red, green and blue of a hexadecimal sRGB color (IEC 61966-2-1). */
export const linearRgb = (hex: string) =>
  [1, 3, 5].map((at) => linear(Number.parseInt(hex.slice(at, at + 2), 16) / 255));

/** Contrast ratio of two colors by WCAG 2.1, "relative luminance" and "contrast ratio". */
export function contrast(one: string, other: string): number {
  const [high, low] = [one, other]
    .map((hex) => linearRgb(hex).reduce((sum, channel, i) => sum + channel * [0.2126, 0.7152, 0.0722][i]!, 0))
    .sort((a, b) => b - a) as [number, number];
  return (high + 0.05) / (low + 0.05);
}

const tokens = readFileSync(join(import.meta.dirname, '../../renderer/ui/theme/tokens.css'), 'utf8');
/** What a plot is drawn on: the panel of the page in either theme (and what is sunk into it), and white paper. */
export const grounds = (['light', 'dark'] as const).flatMap((theme) => {
  const block = new RegExp(`:root\\[data-theme='${theme}'\\] \\{([^}]*)\\}`, 'u').exec(tokens)![1]!;
  return ['--panel', '--panel-inset'].map((name) => {
    const color = new RegExp(`${name}: (#[0-9a-f]{6});`, 'u').exec(block)![1]!;
    return { theme, on: `${name} ${color}`, color };
  });
});
grounds.push({ theme: 'light', on: 'paper', color: '#ffffff' });
