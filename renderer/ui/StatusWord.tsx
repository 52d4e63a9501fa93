import type { ReactNode } from 'react';
import { Shape, type ShapeName } from './Shape.tsx';
import './StatusWord.css';

export type Tone = 'plain' | 'good' | 'warning' | 'bad';

const shapeOfTone: Record<Tone, ShapeName> = {
  plain: 'hollow-circle',
  good: 'check',
  warning: 'half-circle',
  bad: 'cross',
};

/** A state in a word, with a shape and a color of the same meaning. */
export function StatusWord({ tone, shape, children }: { tone: Tone; shape?: ShapeName; children: ReactNode }) {
  return (
    <span className="status-word" data-tone={tone}>
      <Shape name={shape ?? shapeOfTone[tone]} />
      <span>{children}</span>
    </span>
  );
}
