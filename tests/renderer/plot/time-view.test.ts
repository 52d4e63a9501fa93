import { describe, expect, it } from 'vitest';
import { between, keyMove, panned, wholeSpan, zoomed } from '../../../renderer/plot/geometry/time-view.ts';

const whole = 600;
const all = { spanS: undefined, endS: undefined };

describe('the part of a recording that the plots against time show', () => {
  it('is half as long after zooming in, and follows the newest reading as before', () => {
    expect(zoomed(all, 1 / 2, whole)).toEqual({ spanS: 300, endS: undefined });
    expect(zoomed({ spanS: 60, endS: undefined }, 1 / 2, whole)).toEqual({ spanS: 30, endS: undefined });
  });

  it('holds all of a recording, and is never more than a third empty once a minute is recorded', () => {
    for (let s = 0; s < 8000; s += 7) expect(wholeSpan(s)).toBeGreaterThanOrEqual(s);
    for (let s = 61; s < 8000; s += 7) expect(wholeSpan(s)).toBeLessThan(1.5 * s);
    expect(wholeSpan(65)).toBe(90);
  });

  it('keeps its middle where it stands still', () => {
    // From 200 to 300 s, about 250 s: 50 s are 225 to 275, 200 s are 150 to 350.
    expect(zoomed({ spanS: 100, endS: 300 }, 1 / 2, whole)).toEqual({ spanS: 50, endS: 275 });
    expect(zoomed({ spanS: 100, endS: 300 }, 2, whole)).toEqual({ spanS: 200, endS: 350 });
  });

  it('is all of it when that is no longer, and never less than two seconds', () => {
    expect(zoomed({ spanS: 400, endS: 500 }, 2, whole)).toEqual(all);
    expect(zoomed({ spanS: 3, endS: 500 }, 1 / 2, whole).spanS).toBe(2);
  });

  it('moves by a share of its length, to the beginning at most, and follows again at the end', () => {
    expect(panned({ spanS: 60, endS: undefined }, -1 / 2, whole)).toEqual({ spanS: 60, endS: 570 });
    expect(panned({ spanS: 60, endS: 70 }, -1 / 2, whole)).toEqual({ spanS: 60, endS: 60 });
    expect(panned({ spanS: 60, endS: 580 }, 1 / 2, whole)).toEqual({ spanS: 60, endS: undefined });
  });

  it('cannot be moved where all of it is shown', () => {
    expect(panned(all, -1 / 2, whole)).toEqual(all);
    expect(panned({ spanS: 900, endS: undefined }, -1 / 2, whole)).toEqual({ spanS: 900, endS: undefined });
  });

  it('shows a selected span from end to end, and of one moment two seconds about it', () => {
    expect(between(100, 130)).toEqual({ spanS: 30, endS: 130 });
    expect(between(100, 100)).toEqual({ spanS: 2, endS: 101 });
  });

  it('has a pointer that keys move by a hundredth or a tenth of it and to its edges, and no further', () => {
    expect(keyMove('ArrowLeft', 300, 300, 100)).toBe(299);
    expect(keyMove('PageDown', 299, 300, 100)).toBe(289);
    expect(keyMove('Home', 289, 300, 100)).toBe(200);
    expect(keyMove('ArrowLeft', 200, 300, 100)).toBe(200);
    expect(keyMove('End', 200, 300, 100)).toBe(300);
    // A view that is longer than what was recorded begins with the recording.
    expect(keyMove('Home', 20, 30, 60)).toBe(0);
    expect(keyMove('Tab', 250, 300, 100)).toBeUndefined();
  });
});
