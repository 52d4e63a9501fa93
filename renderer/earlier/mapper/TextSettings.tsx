import { useState } from 'react';
import { withTimeFormat } from '../../../shared/files/logger/preview/change-mapping.ts';
import type { Separator } from '../../../shared/model/logger/mapping.ts';
import type { MappingPreview } from '../../../shared/model/logger/preview.ts';
import { ChoiceField, TextField } from '../../ui/controls/Field.tsx';
import type { MappingChange } from './use-mapping-preview.ts';

const separatorChoices: { value: Separator; label: string }[] = [
  { value: ';', label: 'Semicolons' },
  { value: ',', label: 'Commas' },
  { value: '\t', label: 'Tabs' },
];
const decimalChoices = [
  { value: ',', label: 'Comma' },
  { value: '.', label: 'Point' },
] as const;
const countedLabels: Record<string, string> = { s: 'Seconds', ms: 'Milliseconds', min: 'Minutes', h: 'Hours' };
/** Stands in the list for a format that is typed. */
const typed = '';

/** How the text is taken apart: separator, decimal sign, lines before the heading, and how the times are written. */
export function TextSettings({
  preview: { table, mapping },
  onChange,
}: {
  preview: MappingPreview;
  onChange: (change: MappingChange) => void;
}) {
  const lines = mapping.skipLines ?? table?.linesBefore;
  return (
    <div className="text-settings">
      <LinesBefore
        key={lines}
        lines={lines}
        onChange={(skipLines) =>
          onChange(({ mapping: { separator } }) => ({ ...(separator && { separator }), skipLines }))
        }
      />
      {table && (
        <>
          <ChoiceField
            name="Between the cells"
            value={table.separator}
            choices={separatorChoices}
            // With other cells there are other columns: all else is guessed anew.
            onChange={(separator) =>
              onChange(({ mapping: { skipLines, heading } }) => ({
                separator,
                ...(skipLines !== undefined && { skipLines }),
                ...(heading !== undefined && { heading }),
              }))
            }
          />
          <ChoiceField
            name="Decimal sign"
            value={table.decimal}
            choices={decimalChoices}
            onChange={(decimal) => onChange(({ mapping }) => ({ ...mapping, decimal }))}
          />
          <TimeFormatField
            key={table.timeFormat}
            format={table.timeFormat}
            formats={table.timeFormats}
            onChange={(format) =>
              onChange(({ mapping, table }) => table && withTimeFormat(mapping, table.columns, format))
            }
          />
        </>
      )}
    </div>
  );
}

function LinesBefore({ lines, onChange }: { lines: number | undefined; onChange: (lines: number) => void }) {
  const [text, setText] = useState(lines === undefined ? '' : String(lines));
  const count = /^\d{1,5}$/u.test(text) ? Number(text) : undefined;
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault();
        if (count !== undefined && count !== lines) onChange(count);
      }}
    >
      <TextField
        name="Lines before the heading"
        value={text}
        {...(text !== '' && count === undefined && { problem: 'A whole number of lines' })}
        onChange={setText}
        onLeave={() => count !== undefined && count !== lines && onChange(count)}
      />
    </form>
  );
}

/** The formats that read the first time, or another that is typed. */
function TimeFormatField({
  format,
  formats,
  onChange,
}: {
  format: string | undefined;
  formats: string[];
  onChange: (format: string) => void;
}) {
  const [isTyped, setTyped] = useState(formats.length === 0);
  const [text, setText] = useState('');
  const shown = format ?? 'open';
  const commit = () => text.trim() !== '' && onChange(text.trim());
  return (
    <>
      <ChoiceField
        name="Times are written as"
        value={isTyped ? typed : shown}
        choices={[
          ...(format === undefined ? [{ value: 'open', label: 'Not known' }] : []),
          ...formats.map((value) => ({ value, label: countedLabels[value] ?? value })),
          { value: typed, label: 'Another format' },
        ]}
        onChange={(value) => {
          setTyped(value === typed);
          if (value !== typed && value !== shown) onChange(value);
        }}
      />
      {isTyped && (
        <form
          onSubmit={(event) => {
            event.preventDefault();
            commit();
          }}
        >
          <TextField
            name="Format of the time"
            value={text}
            help="yyyy MM dd HH mm ss, or hh with a for AM and PM"
            onChange={setText}
            onLeave={commit}
          />
        </form>
      )}
    </>
  );
}
