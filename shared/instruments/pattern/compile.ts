import type { CharacterSet } from './character-set.ts';
import type { Node } from './parse.ts';

/** One step of the matching machine; `to` and `or` are places in the program, `or` is tried after `to`. */
export type Step =
  | { op: 'set'; set: CharacterSet }
  | { op: 'split'; to: number; or: number }
  | { op: 'jump'; to: number }
  | { op: 'save'; slot: number }
  | { op: 'assert'; at: 'start' | 'end' | 'boundary' | 'inside' }
  | { op: 'match' };

export interface Program {
  steps: Step[];
  groups: (string | undefined)[];
}

// Bounds one line's work: 512 characters x 1500 steps. Counted repeats are written out, so {1000} of a long body is refused.
const mostSteps = 1500;

/** Turns the parsed pattern into steps; fails with a problem in words when it would be too large. */
export function compilePattern(
  node: Node,
  groups: (string | undefined)[],
): { ok: true; program: Program } | { ok: false; problem: string } {
  // Engines differ in what a repeat of nothing means; a pattern that needs it can be written without.
  if (repeatsNothing(node)) return { ok: false, problem: 'a part that may be empty cannot be repeated or optional' };
  const steps: Step[] = [];
  let tooLarge = false;

  const add = (step: Step): number => {
    if (steps.length >= mostSteps) tooLarge = true;
    else steps.push(step);
    return steps.length - 1;
  };
  /** A fork to be completed later; greedy means: first into the body. */
  const fork = (greedy: boolean) => {
    const step: Step = { op: 'split', to: 0, or: 0 };
    const body = add(step) + 1;
    return (end: number) => {
      step.to = greedy ? body : end;
      step.or = greedy ? end : body;
    };
  };

  const emit = (part: Node): void => {
    if (tooLarge) return;
    switch (part.kind) {
      case 'set':
        add({ op: 'set', set: part.set });
        return;
      case 'assert':
        add({ op: 'assert', at: part.at });
        return;
      case 'sequence':
        for (const inner of part.parts) emit(inner);
        return;
      case 'group':
        add({ op: 'save', slot: 2 * part.group });
        emit(part.body);
        add({ op: 'save', slot: 2 * part.group + 1 });
        return;
      case 'choice':
        emitChoice(part.options);
        return;
      case 'repeat':
        emitRepeat(part);
    }
  };

  const emitChoice = (options: Node[]) => {
    const toEnd: { op: 'jump'; to: number }[] = [];
    options.forEach((option, index) => {
      const last = index === options.length - 1;
      const close = last ? undefined : fork(true);
      emit(option);
      if (close) {
        const jump: { op: 'jump'; to: number } = { op: 'jump', to: 0 };
        add(jump);
        toEnd.push(jump);
        close(steps.length);
      }
    });
    for (const jump of toEnd) jump.to = steps.length;
  };

  const emitRepeat = ({ body, least, most, greedy }: Extract<Node, { kind: 'repeat' }>) => {
    for (let i = 0; i < least && !tooLarge; i += 1) emit(body);
    if (most === Infinity) {
      const start = steps.length;
      const close = fork(greedy);
      emit(body);
      add({ op: 'jump', to: start });
      close(steps.length);
      return;
    }
    const closes = [];
    for (let i = least; i < most && !tooLarge; i += 1) {
      closes.push(fork(greedy));
      emit(body);
    }
    for (const close of closes) close(steps.length);
  };

  emit(node);
  add({ op: 'match' });
  if (tooLarge) return { ok: false, problem: 'its counted repeats make it too large' };
  return { ok: true, program: { steps, groups } };
}

/** Whether the part may match without taking a character. */
function mayBeEmpty(part: Node): boolean {
  switch (part.kind) {
    case 'set':
      return false;
    case 'assert':
      return true;
    case 'sequence':
      return part.parts.every(mayBeEmpty);
    case 'choice':
      return part.options.some(mayBeEmpty);
    case 'group':
      return mayBeEmpty(part.body);
    case 'repeat':
      return part.least === 0 || mayBeEmpty(part.body);
  }
}

/** Whether some repeat in the pattern has a body that may be empty. */
function repeatsNothing(part: Node): boolean {
  switch (part.kind) {
    case 'set':
    case 'assert':
      return false;
    case 'sequence':
      return part.parts.some(repeatsNothing);
    case 'choice':
      return part.options.some(repeatsNothing);
    case 'group':
      return repeatsNothing(part.body);
    case 'repeat':
      return mayBeEmpty(part.body) || repeatsNothing(part.body);
  }
}
