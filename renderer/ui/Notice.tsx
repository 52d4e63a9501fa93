import type { ReactNode } from 'react';
import { Shape, type ShapeName } from './Shape.tsx';
import type { Tone } from './StatusWord.tsx';
import './Notice.css';

const shapes: Record<Tone, ShapeName> = { plain: 'solid-circle', good: 'check', doubt: 'half-circle', bad: 'cross' };

/**
 * One sentence where it belongs. Bad news interrupts a screen reader, other news waits its turn.
 * `children` after the sentence are what can be done about it.
 */
export function Notice({ tone, text, children }: { tone: Tone; text: string; children?: ReactNode }) {
  return (
    <div className="say" data-tone={tone} role={tone === 'bad' ? 'alert' : 'status'}>
      <Shape name={shapes[tone]} />
      <div className="stack">
        <p>{text}</p>
        {children}
      </div>
    </div>
  );
}

/** What can hurt people at this step. Always in view while the step is done. */
export function Caution({ children }: { children: ReactNode }) {
  return (
    <div className="caution" role="note" aria-label="Caution">
      <Shape name="triangle" size={22} />
      <div>{children}</div>
    </div>
  );
}

/** Says a change of state to a screen reader, and only there. */
export function Announce({ text }: { text: string }) {
  return (
    <output className="heard" aria-live="polite">
      {text}
    </output>
  );
}
