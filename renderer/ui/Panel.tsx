import { useId, type ReactNode } from 'react';
import { visibleText } from '../../shared/model/visible-text.ts';
import './Panel.css';

/** One thing to do or to read, under a name. */
export function Panel({ name, children, className = '' }: { name: string; children: ReactNode; className?: string }) {
  const id = useId();
  return (
    <section className={`panel ${className}`} aria-labelledby={id}>
      <h2 id={id}>{visibleText(name)}</h2>
      {children}
    </section>
  );
}
