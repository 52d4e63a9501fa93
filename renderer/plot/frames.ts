import { useEffect, useEffectEvent } from 'react';

/** 20 frames a second look smooth and leave a small laptop half its time. */
const perSecond = 20;

/** Calls `draw` on animation frames, at most `perSecond` times a second, while the page is in view. Returns a function that stops it. */
export function onFrames(draw: () => void): () => void {
  let last = Number.NEGATIVE_INFINITY;
  let frame = requestAnimationFrame(function next(now) {
    frame = requestAnimationFrame(next);
    if (now - last < 1000 / perSecond - 4) return;
    last = now;
    draw();
  });
  return () => cancelAnimationFrame(frame);
}

/** Draws on animation frames while the component is shown; `draw` always sees the newest props. */
export function useFrames(draw: () => void): void {
  const newest = useEffectEvent(draw);
  useEffect(() => onFrames(() => newest()), []);
}
