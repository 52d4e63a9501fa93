import type { BenchmarkOptions, Section, SectionResult } from '../section.ts';
import { table } from '../table.ts';

// A small laptop at the burner keeps up: 30 frames a second, and two thirds of its time left. Our choice.
const mostFrameMs = 34;
const mostBusy = 0.35;
const mostDelayMs = 150;
const mostIdle = 0.05;

/** What the page costs in Chromium, and how late it shows a reading, with an hour recorded and without. */
export const screen: Section = {
  name: 'screen',
  title: 'Screen: the page in Chromium while two meters send 50 readings a second each, at the start and after an hour',
  run,
};

async function run({ progress }: BenchmarkOptions): Promise<SectionResult> {
  // Loads a browser's driver: not for the other sections.
  const { measureScreen } = await import('./page.ts');
  const fresh = await measureScreen(false, progress);
  const hour = await measureScreen(true, progress);
  const all = [...fresh.places, ...hour.places];
  const worst = (of: (place: (typeof all)[number]) => number) => Math.max(...all.map(of));
  const delay = Math.max(fresh.lineToScreenMs, hour.lineToScreenMs);
  return {
    lines: table([
      ['place', 'frame ms', 'after 1 h', 'frames/s', 'after 1 h', 'busy', 'after 1 h'],
      ...fresh.places.map((one, i) => {
        const later = hour.places[i]!;
        return [
          one.place,
          ...[one.frameMs, later.frameMs].map((ms) => ms.toFixed(0)),
          ...[one.perSecond, later.perSecond].map((n) => n.toFixed(0)),
          ...[one.busy, later.busy].map((share) => `${(100 * share).toFixed(0)} %`),
        ];
      }),
    ]),
    data: { fresh, hour },
    figures: [
      {
        what: 'time between frames that 95 % keep, in the slowest place',
        wanted: `under ${mostFrameMs} ms`,
        found: `${worst(({ frameMs }) => frameMs).toFixed(0)} ms`,
        met: worst(({ frameMs }) => frameMs) < mostFrameMs,
      },
      {
        what: 'main thread of the page, in the busiest place',
        wanted: `under ${100 * mostBusy} %`,
        found: `${(100 * worst(({ busy }) => busy)).toFixed(0)} %`,
        met: worst(({ busy }) => busy) < mostBusy,
      },
      {
        what: 'main thread of the page before anything is connected, in the busiest place',
        wanted: `under ${100 * mostIdle} %`,
        found: `${(100 * fresh.idle).toFixed(1)} %`,
        met: fresh.idle < mostIdle,
      },
      {
        what: 'from the line of a meter to its number on the screen, what 95 % keep',
        wanted: `under ${mostDelayMs} ms`,
        found: `${fresh.lineToScreenMs.toFixed(0)} ms, after an hour ${hour.lineToScreenMs.toFixed(0)} ms`,
        met: delay < mostDelayMs,
      },
    ],
  };
}
