import type { PracticeState } from '../../shared/contract/api.ts';
import type { Tone } from '../ui/StatusWord.tsx';

/** What the page says of the burner control. `next`: what the technician can do, or what to know of this state. */
export interface SequenceWords {
  word: string;
  tone: Tone;
  next: string;
}

/** The state of the practice burner's control in words; undefined without a control. */
export function sequenceWords({
  sequence,
  flame,
  valve,
  settings,
}: Pick<PracticeState, 'sequence' | 'flame' | 'valve' | 'settings'>): SequenceWords | undefined {
  if (sequence === undefined) return undefined;
  const burnsShut = flame && valve === 'stuck-open';
  const shut = (word: string, next: string): SequenceWords =>
    burnsShut ? { word, tone: 'bad', next: stuckOpen } : { word, tone: 'plain', next };
  switch (sequence) {
    case 'standby':
      return shut('Off', 'Pilot valve off, fan off.');
    case 'prepurge':
      return shut('Prepurge', 'Fan on, pilot valve off.');
    case 'postpurge':
      return shut('Postpurge', 'Fan on, pilot valve off.');
    case 'lockout':
      return {
        word: 'Lockout',
        tone: 'bad',
        next: burnsShut ? stuckOpen : 'Pilot valve off. Find the cause before the reset.',
      };
    case 'pilot-trial': {
      const { sparkDelayS } = settings;
      return {
        word: 'Trial for ignition',
        tone: 'warning',
        next: sparkDelayS > 0 ? `Gas on, spark after ${sparkDelayS} s.` : 'Gas and spark on.',
      };
    }
    case 'pilot-hold':
      return flame
        ? { word: 'Pilot held', tone: 'good', next: 'The test switch holds it here.' }
        : { word: 'Pilot held', tone: 'bad', next: 'Gas on, no flame: stop the burner.' };
    case 'run':
      return flame
        ? { word: 'Run', tone: 'good', next: 'There is no main burner here; the pilot burns on.' }
        : { word: 'Run', tone: 'bad', next: 'Gas on, no flame: stop the burner.' };
  }
}

const stuckOpen = 'A flame burns although the valve is off: it is stuck open.';
