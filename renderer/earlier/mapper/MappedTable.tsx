import { unitLabel } from '../../../shared/model/format.ts';
import { withColumnUnit, withUse } from '../../../shared/files/logger/preview/change-mapping.ts';
import type { Mapping } from '../../../shared/model/logger/mapping.ts';
import {
  type ColumnUse,
  columnUses,
  type MappingPreview,
  type PreviewColumn,
} from '../../../shared/model/logger/preview.ts';
import { visibleText } from '../../../shared/model/visible-text.ts';
import { roleLabels } from '../../../shared/report/labels.ts';
import type { MappingChange } from './use-mapping-preview.ts';

type Table = NonNullable<MappingPreview['table']>;
const useLabels: Record<ColumnUse, string> = { ...roleLabels, time: 'Time', date: 'Date', none: 'Left out' };

/** The first rows of the file; at the head of each column stands what it is read as, and in which unit. */
export function MappedTable({ table, onChange }: { table: Table; onChange: (change: MappingChange) => void }) {
  const { columns, rows, rowCount, furtherColumns } = table;
  return (
    <>
      {/* Wide tables are scrolled by their own bar, also from the keyboard. */}
      {/* oxlint-disable-next-line jsx-a11y/no-noninteractive-tabindex */}
      <section className="mapped-table" aria-label="The first rows of the file" tabIndex={0}>
        <table>
          <thead>
            <tr>
              {columns.map(({ id, heading, below, use }) => (
                <th key={id} scope="col" data-use={use}>
                  {titleOf(id, heading)}
                  {below !== undefined && <span className="soft"> {visibleText(below)}</span>}
                </th>
              ))}
            </tr>
            <tr>
              {columns.map((column) => (
                <td key={column.id} data-use={column.use}>
                  <ColumnSettings
                    column={column}
                    onUse={(use) => onChange(columnChange(column.id, withUse, use))}
                    onUnit={(unit) => onChange(columnChange(column.id, withColumnUnit, unit))}
                  />
                </td>
              ))}
            </tr>
          </thead>
          <tbody>
            {rows.map((row, number) => (
              // Rows have no identity but their place.
              // oxlint-disable-next-line react/no-array-index-key
              <tr key={number}>
                {columns.map((column, place) => (
                  <td key={column.id} className="figure" data-use={column.use}>
                    {visibleText(row[place] ?? '')}
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </section>
      <p className="soft">
        {rowCount > rows.length ? `The first ${rows.length} of ${rowCount.toLocaleString('en-US')} rows.` : 'All rows.'}
        {furtherColumns > 0 && ` ${furtherColumns} more columns are not shown.`}
      </p>
    </>
  );
}

/** A change of the column of that name, where the table still has it. */
const columnChange =
  <T,>(
    id: PreviewColumn['id'],
    changed: (mapping: Mapping, columns: readonly PreviewColumn[], column: PreviewColumn, to: T) => Mapping,
    to: T,
  ): MappingChange =>
  ({ mapping, table }) => {
    const column = table?.columns.find((one) => one.id === id);
    return table && column && changed(mapping, table.columns, column, to);
  };

const titleOf = (id: PreviewColumn['id'], heading: string): string =>
  heading === '' ? `Column ${id}` : visibleText(heading);

/** What a column is read as, and in which unit. */
function ColumnSettings({
  column: { id, heading, use, unit, units },
  onUse,
  onUnit,
}: {
  column: PreviewColumn;
  onUse: (use: ColumnUse) => void;
  onUnit: (unit: string) => void;
}) {
  const title = titleOf(id, heading);
  const isRead = use !== 'time' && use !== 'date' && use !== 'none';
  return (
    <div className="column-settings">
      <select
        className="input"
        aria-label={`Read ${title} as`}
        value={use}
        onChange={(event) => onUse(event.target.value as ColumnUse)}
      >
        {columnUses.map((one) => (
          <option key={one} value={one}>
            {useLabels[one]}
          </option>
        ))}
      </select>
      {isRead && (
        <select
          className="input"
          aria-label={`Unit of ${title}`}
          value={unit ?? ''}
          disabled={units.length === 0}
          onChange={(event) => onUnit(event.target.value)}
        >
          {unit === undefined && <option value="">{units.length === 0 ? 'Not read here' : 'Unit?'}</option>}
          {units.map((one) => (
            <option key={one} value={one}>
              {unitLabel(one)}
            </option>
          ))}
        </select>
      )}
    </div>
  );
}
