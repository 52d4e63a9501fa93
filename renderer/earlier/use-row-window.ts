import { defaultRangeExtractor, useVirtualizer, type Range } from '@tanstack/react-virtual';
import { useLayoutEffect, useRef, useState, type FocusEvent, type KeyboardEvent } from 'react';

/** Height of a row before it has been measured, pixels: a name over a site, and a button. */
const estimatedHeight = 65;

/** The element that scrolls, with everything of a place in it. */
const scroller = () => document.getElementById('place');

/**
 * Which rows of a long table are on the page: those in view, some before and after, and the one that has the focus, so that scrolling does
 * not lose it. The table is part of a place that scrolls as a whole.
 */
export function useRowWindow(count: number) {
  const body = useRef<HTMLTableSectionElement>(null);
  const [bodyTop, setBodyTop] = useState(0);
  const [focused, setFocused] = useState<number>();
  // Its functions must not be memoized; nothing here is.
  // oxlint-disable-next-line react/incompatible-library
  const virtualizer = useVirtualizer({
    count,
    getScrollElement: scroller,
    estimateSize: () => estimatedHeight,
    overscan: 10,
    scrollMargin: bodyTop,
    rangeExtractor: (range: Range) =>
      focused === undefined || focused >= count
        ? defaultRangeExtractor(range)
        : [...new Set([...defaultRangeExtractor(range), focused])].sort((a, b) => a - b),
  });

  // What stands above the table comes and goes: banners, notices of an import, a comparison.
  useLayoutEffect(() => {
    const measure = () => {
      const place = scroller();
      if (!place || !body.current) return;
      const top = body.current.getBoundingClientRect().top - place.getBoundingClientRect().top + place.scrollTop;
      setBodyTop(Math.round(top));
    };
    measure();
    const observer = new ResizeObserver(measure);
    for (const part of scroller()?.children ?? []) observer.observe(part);
    return () => observer.disconnect();
  });

  /** The arrows up and down lead to the same button of the next row, Home and End to the first and last row. */
  const onKeyDown = (event: KeyboardEvent<HTMLElement>) => {
    const row = (event.target as HTMLElement).closest('tr');
    const index = Number(row?.dataset['index'] ?? Number.NaN);
    const to = { ArrowDown: index + 1, ArrowUp: index - 1, Home: 0, End: count - 1 }[event.key];
    if (to === undefined || !(to >= 0 && to < count)) return;
    event.preventDefault();
    const button = [...row!.querySelectorAll('button')].indexOf(event.target as HTMLButtonElement);
    setFocused(to);
    virtualizer.scrollToIndex(to);
    focusButton(body, to, Math.max(0, button));
  };

  const items = virtualizer.getVirtualItems();
  const rows = items.map(({ index, start, size }, i) => ({ index, size, gap: start - (items[i - 1]?.end ?? bodyTop) }));
  return {
    body,
    /** `gap`: pixels between the row before, or the top, and this one; `rest`: those after the last row. */
    rows,
    rest: virtualizer.getTotalSize() + bodyTop - (items.at(-1)?.end ?? bodyTop),
    measureRow: virtualizer.measureElement,
    handlers: {
      onKeyDown,
      onFocus: (event: FocusEvent<HTMLElement>) => {
        const index = event.target.closest('tr')?.dataset['index'];
        setFocused(index === undefined ? undefined : Number(index));
      },
      onBlur: () => setFocused(undefined),
    },
  };
}

/** Focuses a button of a row as soon as the row is on the page; its page of captures may have to come from the host first. */
function focusButton(body: { current: HTMLElement | null }, index: number, button: number, framesLeft = 60): void {
  const buttons = body.current?.querySelectorAll<HTMLElement>(`tr[data-index="${index}"] button`);
  const found = buttons?.[Math.min(button, buttons.length - 1)];
  if (found) found.focus({ preventScroll: true });
  else if (framesLeft > 0) requestAnimationFrame(() => focusButton(body, index, button, framesLeft - 1));
}
