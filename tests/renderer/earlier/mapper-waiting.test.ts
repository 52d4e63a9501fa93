import { expect, it } from 'vitest';
import { waitingFor } from '../../../renderer/earlier/mapper/waiting-for.ts';
import { fault } from '../../../shared/model/faults.ts';

const idle = { isReading: false, isImporting: false, fault: undefined };
const question = { ask: 'Which unit has "Druck"?', choices: [] };

it.each([
  ['waits for every answer', { questions: [question, question] }, idle, /2 answers/u],
  ['waits for one answer', { questions: [question] }, idle, /one answer/u],
  ['waits while what is shown is not the latest', { questions: [] }, { ...idle, isReading: true }, /Reading/u],
  ['waits for the import before', { questions: [] }, { ...idle, isImporting: true }, /Importing/u],
  ['is not possible where the file fails', { questions: [], problem: 'Its clock goes back.' }, idle, /not possible/u],
  ['is not possible where there is no preview', undefined, { ...idle, fault: fault('cancelled') }, /not possible/u],
  [
    'is not possible where a preview failed',
    { questions: [] },
    { ...idle, fault: fault('cancelled') },
    /not possible/u,
  ],
])('the import %s, and says so', (_, preview, state, why) => expect(waitingFor(preview, state)).toMatch(why));

it('the import waits for nothing once all is answered', () =>
  expect(waitingFor({ questions: [] }, idle)).toBeUndefined());
