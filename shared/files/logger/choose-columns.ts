import { type Role, roles, unitFits, unitsOfRole } from '../../model/reading.ts';
import { quoted } from './column-text.ts';
import { type ColumnGuess, nothingKnown } from './find-columns.ts';
import { type ColumnName, columnsNamed, type Mapping } from '../../model/logger/mapping.ts';
import { type Decimal, readNumeral } from './numbers.ts';
import { openFaults, type OpenPoint } from './open-points.ts';
import { exactUnit, isOneSize, type WrittenUnit } from './written-units.ts';

/** The two without which there is no window. */
export const neededRoles = ['pilot_pressure', 'flame_signal'] as const;

/** A column with what it is to be read as. */
export interface ChosenColumn extends ColumnGuess {
  role: Role;
}

/** Exactly the columns of the mapping; what of it the file contradicts goes to `open`. */
export function givenColumns(
  file: string,
  names: string[],
  free: ColumnGuess[],
  columns: NonNullable<Mapping['columns']>,
  open: OpenPoint[],
): ChosenColumn[] {
  return columns.flatMap(({ column, role, unit }) => {
    const named = columnsNamed(names, column).flatMap((place) => free.find(({ index }) => index === place) ?? []);
    const guess = named[0];
    const invalid = (problem: string) => {
      open.push({ about: 'mapping', fault: openFaults(file).unclear(problem, 'columns') });
      return [];
    };
    const called = columnText(column);
    if (named.length > 1) return invalid(`it has two columns ${called}; say the position of the right one, from 1`);
    if (!guess)
      return invalid(`it has no column ${called}; its columns are ${free.map(({ name }) => name).join(', ')}`);
    const base = { ...guess, role, because: guess.role === role ? guess.because : 'it was said so' };
    if (unit === undefined) return [base];
    const size = unitFits(role, unit) ? { unit, factor: 1 } : exactUnit(unit);
    if (!size || !unitFits(role, size.unit)) return invalid(`"${unit}" is no unit of ${role}`);
    // The heading may leave the unit open, but not contradict it.
    if (guess.written.length > 0 && !guess.written.some((one) => one.size && isOneSize(one.size, size)))
      return invalid(`the column ${called} is in ${inQuotes(guess.written)} by its heading, but in ${unit} by the map`);
    return [{ ...base, unit: { text: unit, size } }];
  });
}

/** The columns that are known to be of one role, each role once; what is not certain goes to `open`. */
export function guessedColumns(file: string, free: ColumnGuess[], open: OpenPoint[]): ChosenColumn[] {
  const { ambiguous, unclear } = openFaults(file);
  return roles.flatMap((role) => {
    const candidates = free.filter((guess): guess is ChosenColumn => guess.role === role);
    const named = candidates.filter(({ name }) => /pilot/iu.test(name));
    const one = role === 'pilot_pressure' && candidates.length > 1 && named.length === 1 ? named : candidates;
    const columns = one.map(({ index }) => index);
    if (one.length > 1) {
      const names = one.map(({ name, index }) => quoted(name, index)).join(' or ');
      open.push({ about: 'column', role, columns, fault: ambiguous(role, names, 'columns') });
    } else if (one.length === 0 && (neededRoles as readonly Role[]).includes(role)) {
      const others = free.filter(({ role: other }) => other === undefined);
      const problem = `none of its columns is known to be ${role}: ${free.map(whatOf).join(', ')}`;
      open.push({
        about: 'column',
        role,
        columns: others.map(({ index }) => index),
        fault: unclear(problem, 'columns'),
      });
    }
    return one.length === 1 ? one : [];
  });
}

/** The column with its unit: that of the heading, or the one behind every number of the column. Else what is open of it. */
export function withUnit(
  file: string,
  column: ChosenColumn,
  rows: string[][],
  decimal: Decimal,
): Required<WrittenUnit> | OpenPoint {
  const { index, name, role, written } = column;
  const called = quoted(name, index);
  const { ambiguous, unclear } = openFaults(file);
  let { unit } = column;
  let other = column.other;
  if (unit === undefined && written.length === 0) {
    const behind = new Set(rows.flatMap((row) => readNumeral(row[index] ?? '', decimal)?.rest ?? []));
    const [text = ''] = behind.size === 1 ? behind : [];
    const size = text === '' ? undefined : exactUnit(text);
    if (size) unit = { text, size };
    else if (text !== '') other = text;
    // A switch is on or off, and has no other unit.
    else if (unitsOfRole[role].length === 1) return { text: 'on', size: { unit: 'on', factor: 1 } };
  }
  if (unit?.size && unitFits(role, unit.size.unit)) return { text: unit.text, size: unit.size };
  const fitting = written.flatMap(({ text, size }) => (size && unitFits(role, size.unit) ? [text] : []));
  const open = (fault: OpenPoint['fault'], units = fitting): OpenPoint => ({
    about: 'unit',
    role,
    index,
    units,
    fault,
  });
  if (written.length > 1 || (written.length === 1 && written[0]!.size && unit === undefined)) {
    const candidates =
      written.length > 1 ? inQuotes(written) : `"${written[0]!.text}", unless that is part of its name`;
    return open(ambiguous(`the unit of the column ${called}`, candidates, 'columns'));
  }
  const text = unit?.text ?? written[0]?.text;
  if (text === undefined)
    return open(
      unclear(
        `the column ${called} ${other === undefined ? 'has no unit' : `has the unit "${other}", which is not known here`}`,
        'columns',
      ),
      [...unitsOfRole[role]],
    );
  const why = unit ? `does not fit ${role}` : 'is not known here';
  return open(unclear(`the column ${called} has the unit "${text}", which ${why}`, 'columns'));
}

const columnText = (column: ColumnName): string => (typeof column === 'number' ? `number ${column}` : `"${column}"`);
const inQuotes = (units: WrittenUnit[]): string => units.map(({ text }) => `"${text}"`).join(' or ');
const whatOf = ({ name, index, role, because }: ColumnGuess): string =>
  role === undefined && because !== nothingKnown ? `${quoted(name, index)} (${because})` : quoted(name, index);
