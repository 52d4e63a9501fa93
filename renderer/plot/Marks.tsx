import { useId, useMemo, useRef, type ReactNode } from 'react';
import { useFrames } from './frames.ts';
import { useScales, type Scales } from './scales.ts';

/** The `d` of each path by its CSS class, in drawing order. */
export type Drawing = Record<string, string>;

function Clipped({ area, children }: { area: Scales['area']; children: ReactNode }) {
  const id = useId();
  return (
    <g clipPath={`url(#${id})`}>
      <clipPath id={id}>
        <rect {...area} />
      </clipPath>
      {children}
    </g>
  );
}

/** Paths that change only when what they show does. */
export function StaticMarks({ draw }: { draw: (scales: Scales) => Drawing }) {
  const scales = useScales();
  const drawing = useMemo(() => (scales ? draw(scales) : undefined), [draw, scales]);
  if (!scales || !drawing) return null;
  return (
    <Clipped area={scales.area}>
      {Object.entries(drawing).map(([name, path]) => (
        <path key={name} className={`mark ${name}`} d={path} />
      ))}
    </Clipped>
  );
}

/**
 * Paths that move: drawn on animation frames outside React, which only lays out the plot around them.
 * `version` changes when there is anything new to draw; it is called on every frame and must be cheap.
 */
export function LiveMarks({
  names,
  version,
  draw,
}: {
  names: readonly string[];
  version: () => number;
  draw: (scales: Scales) => Drawing;
}) {
  const scales = useScales();
  const group = useRef<SVGGElement>(null);
  const drawn = useRef<{ version: number; scales: Scales; draw: unknown; group: SVGGElement } | undefined>(undefined);
  useFrames(() => {
    if (!scales || !group.current) return;
    const now = version();
    const before = drawn.current;
    const isSame =
      before?.version === now && before.scales === scales && before.draw === draw && before.group === group.current;
    if (isSame) return;
    drawn.current = { version: now, scales, draw, group: group.current };
    const drawing = draw(scales);
    for (const path of group.current.querySelectorAll('path'))
      path.setAttribute('d', drawing[path.dataset['name'] ?? ''] ?? '');
  });
  if (!scales) return null;
  return (
    <Clipped area={scales.area}>
      <g ref={group}>
        {names.map((name) => (
          <path key={name} className={`mark ${name}`} data-name={name} />
        ))}
      </g>
    </Clipped>
  );
}
