import type { ReactNode } from 'react';
import { visibleText } from '../../shared/model/visible-text.ts';
import { Shape, type ShapeName } from './Shape.tsx';
import type { Tone } from './StatusWord.tsx';
import './Notice.css';

const shapes: Record<Tone, ShapeName> = { plain: 'solid-circle', good: 'check', warning: 'half-circle', bad: 'cross' };

/**
 * One message, shown where it belongs. An error interrupts a screen reader, other messages wait their turn.
 * `children` after the sentence are the actions that help.
 */
export function Notice({ tone, text, children }: { tone: Tone; text: string; children?: ReactNode }) {
  return (
    <div className="notice" data-tone={tone} role={tone === 'bad' ? 'alert' : 'status'}>
      <Shape name={shapes[tone]} />
      <div className="stack">
        <p>{visibleText(text)}</p>
        {children}
      </div>
    </div>
  );
}

/** What can injure people at this step. Always in view during the step. */
export function Caution({ children }: { children: ReactNode }) {
  return (
    <div className="caution" role="note" aria-label="Caution">
      <Shape name="triangle" size={22} />
      <div>{children}</div>
    </div>
  );
}

/** Announces a change of state to screen readers only. */
export function Announce({ text }: { text: string }) {
  return (
    <output className="visually-hidden" aria-live="polite">
      {text}
    </output>
  );
}
