import { type TimeView, between, panned, zoomed } from '../plot/geometry/time-view.ts';
import type { TimeSpan } from '../../shared/model/sweeps.ts';
import { Button } from '../ui/controls/Button.tsx';

/** Time spans that the plots against time can show. */
const spans = [
  { seconds: 60, name: '1 min' },
  { seconds: 300, name: '5 min' },
  { seconds: undefined, name: 'All' },
] as const;

interface ViewProps {
  view: TimeView;
  /** Seconds of the recording so far. */
  wholeS: () => number;
  selected: TimeSpan | undefined;
  onView: (view: TimeView) => void;
}

/** How much of the recording the plots against time show, and what the readings in view were. */
export function SpanControls({
  view,
  wholeS,
  isLive,
  onView,
  onSelect,
}: Omit<ViewProps, 'selected'> & { isLive: boolean; onSelect: (span: TimeSpan, endS: number) => void }) {
  const selectView = () => {
    const endS = view.endS ?? wholeS();
    onSelect({ fromS: Math.max(0, endS - (view.spanS ?? endS)), toS: endS }, endS);
  };
  return (
    <fieldset className="span-choice" aria-label="Time span">
      {spans.map(({ seconds, name }) => (
        <Button
          key={name}
          aria-pressed={view.endS === undefined && view.spanS === seconds}
          onClick={() => onView({ spanS: seconds, endS: undefined })}
        >
          {name}
        </Button>
      ))}
      {view.endS === undefined ? (
        <Button onClick={selectView}>Statistics</Button>
      ) : (
        <Button onClick={() => onView({ spanS: view.spanS, endS: undefined })}>
          {isLive ? 'Back to now' : 'Back to end'}
        </Button>
      )}
    </fieldset>
  );
}

/** Nearer and farther, earlier and later. What is selected is what is zoomed into. */
export function ZoomControls({ view, wholeS, selected, onView }: ViewProps) {
  return (
    <fieldset className="span-choice" aria-label="Part in view">
      <Button
        aria-label="Zoom in"
        onClick={() => onView(selected ? between(selected.fromS, selected.toS) : zoomed(view, 1 / 2, wholeS()))}
      >
        +
      </Button>
      <Button aria-label="Zoom out" onClick={() => onView(zoomed(view, 2, wholeS()))}>
        −
      </Button>
      <Button aria-label="Show what was before" onClick={() => onView(panned(view, -1 / 2, wholeS()))}>
        ←
      </Button>
      <Button aria-label="Show what came after" onClick={() => onView(panned(view, 1 / 2, wholeS()))}>
        →
      </Button>
    </fieldset>
  );
}
