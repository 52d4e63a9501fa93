import type { ReactNode } from 'react';
import './Numeral.css';

/**
 * One number, readable from across the room, with its name and unit. `stale` grays out what is no longer live.
 * `huge` fills the width it is given: the unit is above then, so that the figures can be larger.
 */
export function Numeral({
  name,
  value,
  unit,
  size = 'normal',
  stale = false,
  children,
}: {
  name: string;
  value: string;
  unit: string;
  size?: 'normal' | 'large' | 'huge';
  stale?: boolean;
  children?: ReactNode;
}) {
  const isHuge = size === 'huge';
  return (
    <section className="numeral" data-size={size} data-stale={stale} aria-label={name}>
      <div className="numeral-head">
        <span className="numeral-name">
          {name}
          {isHuge && <span className="numeral-unit"> {unit}</span>}
        </span>
        {isHuge && children}
      </div>
      <span className="numeral-value">
        <span>{value}</span>
        {!isHuge && <span className="numeral-unit">{unit}</span>}
      </span>
      {!isHuge && children}
    </section>
  );
}
