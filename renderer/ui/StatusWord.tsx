import type { ReactNode } from 'react';
import { Shape, type ShapeName } from './Shape.tsx';
import './StatusWord.css';

export type Tone = 'plain' | 'good' | 'doubt' | 'bad';

const shapeOfTone: Record<Tone, ShapeName> = {
  plain: 'hollow-circle',
  good: 'check',
  doubt: 'half-circle',
  bad: 'cross',
};

/** A state in a word, with a shape and a tone that say the same. */
export function StatusWord({ tone, shape, children }: { tone: Tone; shape?: ShapeName; children: ReactNode }) {
  return (
    <span className="status-word" data-tone={tone}>
      <Shape name={shape ?? shapeOfTone[tone]} />
      <span>{children}</span>
    </span>
  );
}
