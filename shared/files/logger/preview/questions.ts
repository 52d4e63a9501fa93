import { unitLabel } from '../../../model/format.ts';
import type { Fault } from '../../../model/faults.ts';
import { columnName, type Mapping } from '../../../model/logger/mapping.ts';
import type { MappingQuestion } from '../../../model/logger/preview.ts';
import type { Role } from '../../../model/reading.ts';
import { excerpt } from '../../skipped-rows.ts';
import { neededRoles } from '../choose-columns.ts';
import { nothingKnown } from '../find-columns.ts';
import { formatChoices } from './format-choices.ts';
import type { OpenPoint } from '../open-points.ts';
import type { Proposal } from '../propose-mapping.ts';
import type { TimePlace } from '../time/choose-format.ts';
import { firstTimeText } from '../time/find-time.ts';

type Choice = MappingQuestion['choices'][number];
const separatorNames = { '\t': 'Tab', ';': 'Semicolon', ',': 'Comma' };

/**
 * What is open of a proposal, as questions with their answers: each answer is the whole mapping after it. A column for each of the two
 * needed roles is asked for as well, where a mapping names others only.
 *
 * @param given  the mapping that the proposal was made with
 */
export function questionsOf(proposal: Proposal, given: Mapping): MappingQuestion[] {
  const asked = proposal.open.map((point) => questionOf(point, proposal, given));
  const isCovered = (role: Role) =>
    proposal.columns.some((column) => column.role === role) ||
    proposal.open.some((point) => 'role' in point && point.role === role);
  const missing = neededRoles.filter((role) => !isCovered(role));
  return [...asked, ...missing.map((role) => columnQuestion(role, likely(role, proposal), proposal, given))];
}

/** The question about the separator where no table was found without an answer. */
export const separatorQuestion = (why: string | undefined): MappingQuestion => ({
  ask: 'What separates the cells of a line?',
  ...(why !== undefined && { why }),
  choices: ([';', ',', '\t'] as const).map((separator) => ({
    label: separatorNames[separator],
    mapping: { separator },
  })),
});

function questionOf(point: OpenPoint, proposal: Proposal, given: Mapping): MappingQuestion {
  const { names } = proposal.heading;
  const why = inWords(point.fault);
  switch (point.about) {
    case 'separator':
      return {
        ...separatorQuestion(why),
        choices: point.separators.map((separator) => ({ label: separatorNames[separator], mapping: { separator } })),
      };
    case 'heading':
      return headingQuestion(why, given);
    case 'decimal':
      return { ask: 'Which is the decimal sign?', why, choices: decimalChoices(given) };
    case 'time-column':
      return {
        ask: 'Which column is the time?',
        choices: point.columns.map((index) => ({
          label: titled(names, index),
          mapping: { ...given, time: { column: columnName(names, index) } },
        })),
      };
    case 'time-format':
      return point.formats.length === 0
        ? { ask: 'How are the times written? Set the format of the time below.', why, choices: [] }
        : {
            ask: point.formats.includes('s') ? 'What do the numbers of the time count?' : askForTime(point, proposal),
            choices: formatChoices(point.formats, proposal, given),
          };
    case 'column':
      return columnQuestion(point.role, point.columns, proposal, given);
    case 'unit':
      return {
        ask:
          point.units.length > 0
            ? `Which unit is ${titled(names, point.index)} in?`
            : `${titled(names, point.index)} cannot be read in its own unit. Choose another column, or save the file in another unit.`,
        why,
        choices: point.units.map((unit) => ({
          label: unitLabel(unit),
          mapping: {
            ...given,
            columns: listed(proposal).map((column) => {
              const isIt = column.column === columnName(names, point.index);
              return isIt ? { ...column, unit } : column;
            }),
          },
        })),
      };
    case 'mapping':
      return { ask: 'What was said does not fit the file. Change it below, or guess anew.', why, choices: [] };
  }
}

/** What is wrong by a fault, without the way in which the commands settle it. */
export function inWords({ facts, message }: Fault): string {
  const { problem, what, candidates } = facts ?? {};
  if (problem === undefined && what === undefined) return message;
  const text = problem === undefined ? `${what} may be ${candidates}` : String(problem);
  return `${text[0]!.toUpperCase()}${text.slice(1)}.`;
}

export const headingQuestion = (why: string, given: Mapping): MappingQuestion => ({
  ask: 'Which line is the heading? Set the lines before it below.',
  why,
  choices: given.heading === false ? [] : [{ label: 'It has no heading', mapping: { ...given, heading: false } }],
});

const askForTime = (place: TimePlace, { rows }: Proposal): string =>
  `Which time is "${excerpt(firstTimeText(rows, place))}"?`;

const decimalChoices = (given: Mapping): Choice[] => [
  { label: 'Comma: 2,514 is about two and a half', mapping: { ...given, decimal: ',' } },
  { label: 'Point: 2.514 is about two and a half', mapping: { ...given, decimal: '.' } },
];

/** The columns that are read, or would be if their unit were known, as a mapping lists them. */
export function listed({ heading: { names }, columns, open }: Proposal): NonNullable<Mapping['columns']> {
  const known = columns.map(({ index, role, unitText }) => ({ index, role, unit: unitText }));
  const unknown = open.flatMap((point) => (point.about === 'unit' ? [{ index: point.index, role: point.role }] : []));
  return [...known, ...unknown]
    .toSorted((a, b) => a.index - b.index)
    .map(({ index, ...rest }) => ({ column: columnName(names, index), ...rest }));
}

function columnQuestion(role: Role, places: number[], proposal: Proposal, given: Mapping): MappingQuestion {
  const { guesses, heading } = proposal;
  return {
    ask: `Which column is the ${role.replaceAll('_', ' ')}?`,
    ...(places.length === 0 && { why: 'No column is left for it.' }),
    choices: places.map((index) => {
      const { because, role: own } = guesses.find((guess) => guess.index === index)!;
      const doubt = own === undefined && because !== nothingKnown ? `: ${because}` : '';
      const others = listed(proposal).filter(({ column }) => column !== columnName(heading.names, index));
      return {
        label: `${titled(heading.names, index)}${doubt}`,
        mapping: { ...given, columns: [...others, { column: columnName(heading.names, index), role }] },
      };
    }),
  };
}

/** The columns that a name speaks for, else all that are not read yet. */
function likely(role: Role, { guesses, columns }: Proposal): number[] {
  const free = guesses.filter(({ index }) => !columns.some((column) => column.index === index));
  const named = free.filter((guess) => guess.role === role);
  return (named.length > 0 ? named : free).map(({ index }) => index);
}

/** The heading; where that is blank or another has the same, the place. */
function titled(names: string[], index: number): string {
  const isTold = typeof columnName(names, index) === 'string';
  return `${names[index] ? `"${excerpt(names[index])}"` : ''}${isTold ? '' : `${names[index] ? ', ' : ''}column ${index + 1}`}`;
}
