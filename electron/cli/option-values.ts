import { InvalidArgumentError } from 'commander';

/** A parser for options that take a whole number from `low` to `high`. It throws commander's InvalidArgumentError. */
export const wholeNumber =
  (option: string, low: number, high: number) =>
  (text: string): number => {
    const value = Number(text);
    if (!/^\d+$/u.test(text) || value < low || value > high)
      throw new InvalidArgumentError(`${option} takes a whole number from ${low} to ${high}.`);
    return value;
  };

const msPer: Record<string, number> = { ms: 1, s: 1000, '': 1000, m: 60_000, min: 60_000, h: 3_600_000 };
// The longest timer of Node; 24 days are longer than any visit.
const longestMs = 2 ** 31 - 1;

/** A duration in milliseconds: "60s", "5m", "500ms", "1.5h", or plain seconds. Throws commander's InvalidArgumentError. */
export function durationMs(text: string): number {
  const parts = /^(\d+(?:\.\d+)?)\s*(ms|s|m|min|h|)$/u.exec(text.trim());
  const ms = parts ? Math.round(Number(parts[1]) * (msPer[parts[2] ?? ''] ?? 0)) : 0;
  if (ms < 1 || ms > longestMs)
    throw new InvalidArgumentError('Give a duration such as 60s, 5m, 500ms or 90 (seconds).');
  return ms;
}
