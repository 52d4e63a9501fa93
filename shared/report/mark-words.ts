import type { Mark, MarkKind } from '../model/capture.ts';

const markNames: Record<MarkKind, string> = {
  note: 'Note',
  'sweep-start': 'Sweep start',
  'sweep-end': 'Sweep end',
  'sweep-void': 'Sweep discarded',
  'trial-start': 'Trial start',
  'trial-end': 'Trial end',
  'as-found': 'As found',
  'as-left': 'As left',
  gap: 'Gap in the recording',
  'flame-lost': 'Flame lost, gas on',
  'gas-unlit': 'Gas on, no flame',
  'not-shut': 'Gas does not shut off',
  'gas-shut': 'Gas shut',
  'air-confirmed': 'Fan confirmed running',
  'air-stopped': 'Fan no longer confirmed',
};

/** Marks that an alarm leaves; their text is its sentence. */
const alarmMarks: readonly MarkKind[] = ['flame-lost', 'gas-unlit', 'not-shut'];

/** What an alarm says, taken apart: its first sentence is the heading, the rest what to do. */
export function alarmWordsOf(message: string): { heading: string; rest: string } {
  const end = message.indexOf('. ');
  return end < 0 ? { heading: message, rest: '' } : { heading: message.slice(0, end), rest: message.slice(end + 2) };
}

/** A mark as lists show it, on screen and paper. That of an alarm has the name under which the alarm was shown. */
export function markWords({ kind, text }: Pick<Mark, 'kind' | 'text'>): { name: string; text: string } {
  const { heading, rest } = alarmWordsOf(text);
  return alarmMarks.includes(kind) && rest !== '' ? { name: heading, text: rest } : { name: markNames[kind], text };
}
