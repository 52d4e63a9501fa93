import { useId, type ReactNode } from 'react';
import { Shape } from '../Shape.tsx';
import { visibleText } from '../../../shared/model/visible-text.ts';
import './Field.css';

/** The frame of every field: its name, its inputs, one line of help, and what is wrong with it. */
export function FieldFrame({
  name,
  help,
  problem,
  children,
}: {
  name: string;
  help?: string | undefined;
  problem?: string | undefined;
  children: (ids: { input: string; describedBy: string | undefined }) => ReactNode;
}) {
  const input = useId();
  const helpId = useId();
  const problemId = useId();
  const describedBy = [help && helpId, problem && problemId].filter(Boolean).join(' ') || undefined;
  return (
    <div className="field">
      <label htmlFor={input}>{name}</label>
      <div className="field-inputs">{children({ input, describedBy })}</div>
      {help && (
        <p className="soft" id={helpId}>
          {help}
        </p>
      )}
      {problem && (
        <p className="field-problem" id={problemId} role="alert">
          <Shape name="cross" size={16} />
          <span>{problem}</span>
        </p>
      )}
    </div>
  );
}

/** One line of text; a `search` is emptied by Escape. */
export function TextField({
  name,
  type = 'text',
  value,
  help,
  problem,
  disabled = false,
  suggestions,
  onChange,
  onLeave,
}: {
  name: string;
  type?: 'text' | 'search';
  value: string;
  help?: string;
  problem?: string;
  disabled?: boolean;
  suggestions?: string[];
  onChange: (value: string) => void;
  onLeave?: () => void;
}) {
  const list = useId();
  return (
    <FieldFrame name={name} help={help} problem={problem}>
      {({ input, describedBy }) => (
        <>
          <input
            id={input}
            type={type}
            value={value}
            disabled={disabled}
            maxLength={200}
            autoComplete="off"
            aria-describedby={describedBy}
            aria-invalid={problem !== undefined}
            list={suggestions ? list : undefined}
            onChange={(event) => onChange(event.target.value)}
            onBlur={onLeave}
          />
          {suggestions && (
            <datalist id={list}>
              {suggestions.map((text) => (
                <option key={text} value={text}>
                  {text}
                </option>
              ))}
            </datalist>
          )}
        </>
      )}
    </FieldFrame>
  );
}

/** A choice from a few options. */
export function ChoiceField<T extends string>({
  name,
  value,
  choices,
  help,
  problem,
  disabled = false,
  onChange,
}: {
  name: string;
  value: T;
  choices: readonly { value: T; label: string }[];
  help?: string;
  problem?: string | undefined;
  disabled?: boolean;
  onChange: (value: T) => void;
}) {
  return (
    <FieldFrame name={name} help={help} problem={problem}>
      {({ input, describedBy }) => (
        <select
          id={input}
          value={value}
          disabled={disabled}
          aria-invalid={problem !== undefined}
          aria-describedby={describedBy}
          onChange={(event) => onChange(event.target.value as T)}
        >
          {choices.map((choice) => (
            <option key={choice.value} value={choice.value}>
              {visibleText(choice.label)}
            </option>
          ))}
        </select>
      )}
    </FieldFrame>
  );
}
