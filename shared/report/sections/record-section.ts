import type { AnalysisResult } from '../../model/results/analysis-result.ts';
import type { Capture, Mark } from '../../model/capture.ts';
import { formatDuration, formatElapsed, formatWallTime } from '../../model/format.ts';
import { type Stretch, stretchKinds, stretchesOf } from '../../model/stretches.ts';
import { stretchStyles } from '../charts/chart-style.ts';
import { recordChart } from '../charts/record-chart.ts';
import type { Block, Section } from '../document.ts';
import { markWords } from '../mark-words.ts';

/** The recording: both meters over time, and its marks and notes. Trials have their own section. */
export function recordSection(
  capture: Capture,
  { pressureUnit, signalUnit, phases }: Pick<AnalysisResult, 'pressureUnit' | 'signalUnit' | 'phases'>,
): Section {
  const stretches = stretchesOf(phases);
  const blocks: Block[] = [
    {
      kind: 'figure',
      ...recordChart(capture, pressureUnit, signalUnit, stretches),
      caption: 'Both meters over time, and what the burner did.',
      alternative: `Pilot pressure and flame signal over time, with sweeps and light-off trials shaded. ${describeStretches(stretches)}`,
    },
  ];
  const marks = capture.marks.filter(({ kind }) => kind !== 'trial-start' && kind !== 'trial-end');
  if (marks.length > 0)
    blocks.push({
      kind: 'table',
      columns: [
        { heading: 'Time, min:s', align: 'right', share: 14 },
        { heading: 'Mark', align: 'left', share: 26 },
        { heading: 'Text', align: 'left', share: 60 },
      ],
      rows: marks
        .sort((a, b) => a.elapsedS - b.elapsedS)
        .map((mark) => {
          const { name, text } = markWords(mark);
          const words = burnedOn(mark, stretches) ? `${text} ${burnedOnWords}` : text;
          return [formatElapsed(mark.elapsedS), name, words];
        }),
    });
  if (capture.notes.length > 0)
    blocks.push({
      kind: 'table',
      columns: [
        { heading: 'Date', align: 'left', share: 30 },
        { heading: 'By', align: 'left', share: 18 },
        { heading: 'Note', align: 'left', share: 52 },
      ],
      rows: capture.notes.map((note) => [formatWallTime(note.at), note.by ?? '', note.text]),
    });
  return { heading: 'Recording, marks and notes', blocks };
}

/** An alarm for a flame that went out is given within so many seconds of it, and the flame is relit no sooner than that. */
const alarmS = 3;
/** What the record says beside an alarm that was none: it stays, and the time line above it must not contradict it in silence. */
const burnedOnWords = 'With hindsight the flame burned on, weakly.';

/** Whether a mark says that a flame was lost while the whole visit shows that one burned all the time. */
const burnedOn = ({ kind, elapsedS }: Mark, stretches: readonly Stretch[]): boolean =>
  kind === 'flame-lost' &&
  stretches.some((one) => one.kind === 'lit' && one.fromS <= elapsedS - alarmS && one.toS >= elapsedS + alarmS);

/** "Gas shut 1 min 5 s, flame 4 min 12 s, ...": how long each kind of stretch lasted, all together. */
function describeStretches(stretches: readonly Stretch[]): string {
  const parts = stretchKinds.flatMap((kind) => {
    const seconds = stretches.reduce((sum, { fromS, toS, ...one }) => sum + (one.kind === kind ? toS - fromS : 0), 0);
    return seconds > 0 ? [`${stretchStyles[kind].name} ${formatDuration(seconds)}`] : [];
  });
  return parts.length > 0 ? `In all: ${parts.join(', ')}.` : 'What the burner did is not known.';
}
