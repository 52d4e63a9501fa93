import { holds } from './character-set.ts';
import type { Program, Step } from './compile.ts';

/** Positions in the text by slot: group g begins at slot 2 g and ends at slot 2 g + 1; -1 where it took no part. */
type Slots = readonly number[];

interface Threads {
  places: number[];
  slots: Slots[];
}

const isWord = (code: number): boolean => /\w/.test(String.fromCharCode(code));
const wordAt = (text: string, at: number): boolean => at >= 0 && at < text.length && isWord(text.charCodeAt(at));

function stands(at: Extract<Step, { op: 'assert' }>['at'], text: string, position: number): boolean {
  if (at === 'start') return position === 0;
  if (at === 'end') return position === text.length;
  const boundary = wordAt(text, position - 1) !== wordAt(text, position);
  return at === 'boundary' ? boundary : !boundary;
}

/**
 * The named groups of the first match anywhere in `text`; undefined when it does not match. The match is the one that
 * a backtracking engine would find (leftmost, earlier choices first).
 *
 * All ways to match go forward together, one character at a time, and no step is entered twice at one position. The
 * work is therefore at most steps x characters, for every pattern and every text: nothing can hang.
 * Source: Thompson 1968 with the thread priorities and saved positions of Pike's matcher (Cox, "Regular Expression
 * Matching: the Virtual Machine Approach", 2009).
 */
export function matchPattern({ steps, groups }: Program, text: string): Map<string, string> | undefined {
  const none: Slots = Array.from({ length: 2 * (groups.length + 1) }, () => -1);
  // The position at which each step was last entered.
  const entered = new Int32Array(steps.length).fill(-1);
  let current: Threads = { places: [], slots: [] };
  let matched: Slots | undefined;

  const enter = (threads: Threads, place: number, slots: Slots, position: number): void => {
    // Depth first, an explicit stack: earlier choices get the earlier thread.
    const stack: [number, Slots][] = [[place, slots]];
    for (let top = stack.pop(); top; top = stack.pop()) {
      const [here, saved] = top;
      const step = steps[here];
      if (!step || entered[here] === position) continue;
      entered[here] = position;
      switch (step.op) {
        case 'jump':
          stack.push([step.to, saved]);
          break;
        case 'split':
          stack.push([step.or, saved], [step.to, saved]);
          break;
        case 'save':
          stack.push([here + 1, saved.with(step.slot, position)]);
          break;
        case 'assert':
          if (stands(step.at, text, position)) stack.push([here + 1, saved]);
          break;
        default:
          threads.places.push(here);
          threads.slots.push(saved);
      }
    }
  };

  for (let position = 0; position <= text.length; position += 1) {
    // A new attempt begins at each position until one has matched, behind the older ones: leftmost wins.
    if (!matched) enter(current, 0, none, position);
    if (current.places.length === 0 && matched) break;
    const next: Threads = { places: [], slots: [] };
    const code = text.charCodeAt(position);
    for (const [index, place] of current.places.entries()) {
      const step = steps[place];
      const saved = current.slots[index] ?? none;
      if (step?.op === 'match') {
        matched = saved;
        break; // those behind it are of lower priority
      }
      if (step?.op === 'set' && position < text.length && holds(step.set, code))
        enter(next, place + 1, saved, position + 1);
    }
    current = next;
  }
  return matched && namedGroups(groups, matched, text);
}

function namedGroups(groups: (string | undefined)[], slots: Slots, text: string): Map<string, string> {
  const found = new Map<string, string>();
  for (const [index, name] of groups.entries()) {
    const from = slots[2 * (index + 1)] ?? -1;
    const to = slots[2 * (index + 1) + 1] ?? -1;
    if (name !== undefined && from >= 0 && to >= from) found.set(name, text.slice(from, to));
  }
  return found;
}
