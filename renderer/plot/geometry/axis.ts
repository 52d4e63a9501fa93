/** Tick steps that are easy to read, times a power of ten. */
const steps = [1, 2, 2.5, 5, 10];

/** An axis from 0 (or below, when something is) to a round number at or above `highest`, with about `count` ticks. */
export function axisFromZero(highest: number, lowest = 0, count = 6): { domain: [number, number]; ticks: number[] } {
  const top = Number.isFinite(highest) && highest > 0 ? highest : 1;
  const bottom = Number.isFinite(lowest) ? Math.min(0, lowest) : 0;
  const rough = (top - bottom) / count;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = steps.map((one) => one * power).find((one) => one >= rough * (1 - 1e-9))!;
  const first = Math.floor(bottom / step + 1e-9);
  const last = Math.ceil(top / step - 1e-9);
  // Counted in whole steps: adding up 0.1 ten times is not 1.
  const ticks = Array.from({ length: last - first + 1 }, (_, i) => Number(((first + i) * step).toPrecision(12)));
  return { domain: [ticks[0]!, ticks.at(-1)!], ticks };
}
