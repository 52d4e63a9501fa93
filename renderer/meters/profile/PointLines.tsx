import { useRef, useState, type KeyboardEvent } from 'react';
import { roleLabels } from '../../../shared/report/labels.ts';
import { Shape } from '../../ui/Shape.tsx';
import type { ShownLine, ShownPart } from './draft/show-line.ts';
import { withEscapes } from './draft/escapes.ts';

/**
 * The lines in large type; each number and word in them is a button. The Tab key reaches one of them, the arrow keys move
 * between them, Enter presses. Beside each line are the values read from it.
 */
export function PointLines({
  lines,
  onPoint,
}: {
  lines: ShownLine[];
  onPoint: (line: string, part: ShownPart) => void;
}) {
  const [at, setAt] = useState<[line: number, part: number]>([0, 0]);
  const box = useRef<HTMLOListElement>(null);
  const line = Math.min(at[0], lines.length - 1);

  const moveTo = (toLine: number, toPart: number) => {
    const clampedLine = Math.max(0, Math.min(lines.length - 1, toLine));
    const clampedPart = Math.max(0, Math.min((lines[clampedLine]?.parts.length ?? 1) - 1, toPart));
    setAt([clampedLine, clampedPart]);
    box.current?.querySelector<HTMLElement>(`[data-at="${clampedLine} ${clampedPart}"]`)?.focus();
  };
  const onKey = (event: KeyboardEvent, row: number, part: number) => {
    const moves: Record<string, [number, number]> = {
      ArrowLeft: [row, part - 1],
      ArrowRight: [row, part + 1],
      ArrowUp: [row - 1, part],
      ArrowDown: [row + 1, part],
      Home: [row, 0],
      End: [row, Infinity],
    };
    const to = moves[event.key];
    if (!to) return;
    event.preventDefault();
    moveTo(...to);
  };

  return (
    <ol className="point-lines" ref={box} aria-label="Lines to select from">
      {lines.map(({ text, parts, values, isRead }, row) => (
        // Lines repeat and follow each other in place; nothing in a row outlives it.
        // oxlint-disable-next-line react/no-array-index-key
        <li key={row} className="point-line" data-read={values.length > 0 && isRead}>
          <div className="point-text">
            {parts.map((part, index) => (
              <span key={part.from}>
                <span className="point-gap">{withEscapes(text.slice(parts[index - 1]?.to ?? 0, part.from))}</span>
                <button
                  type="button"
                  className="point-part"
                  data-kind={part.kind}
                  data-role={part.role}
                  data-at={`${row} ${index}`}
                  tabIndex={row === line && index === Math.min(at[1], parts.length - 1) ? 0 : -1}
                  onKeyDown={(event) => onKey(event, row, index)}
                  onFocus={() => setAt([row, index])}
                  onClick={() => onPoint(text, part)}
                >
                  {part.role && <small>{roleLabels[part.role]}</small>}
                  {text.slice(part.from, part.to)}
                </button>
              </span>
            ))}
            <span className="point-gap">{withEscapes(text.slice(parts.at(-1)?.to ?? 0))}</span>
          </div>
          <div className="point-values">
            {values.map((value) => (
              <span key={value.role} data-bad={value.isBad}>
                {value.isBad && <Shape name={isRead ? 'triangle' : 'cross'} size={16} />}
                <span className="visually-hidden">{roleLabels[value.role]} </span>
                {value.text} <small>{value.unit}</small>
              </span>
            ))}
          </div>
        </li>
      ))}
    </ol>
  );
}
