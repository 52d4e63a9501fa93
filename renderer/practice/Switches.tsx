import { Button } from '../ui/controls/Button.tsx';
import { Shape } from '../ui/Shape.tsx';

/** A switch that is on or off, in words and by its shape. */
export function Switch({
  name,
  words,
  on,
  set,
}: {
  name: string;
  words: readonly [string, string];
  on: boolean;
  set: (on: boolean) => void;
}) {
  return (
    <Button aria-pressed={on} onClick={() => set(!on)}>
      <Shape name={on ? 'solid-square' : 'hollow-square'} size={16} />
      {name} {words[on ? 1 : 0]}
    </Button>
  );
}

/** A switch with two positions, each a button. */
export function TwoPositions<T extends string>({
  name,
  positions,
  at,
  set,
}: {
  name: string;
  positions: readonly { value: T; label: string }[];
  at: T;
  set: (value: T) => void;
}) {
  return (
    <fieldset className="practice-positions">
      <legend>{name}</legend>
      <div className="practice-pair">
        {positions.map(({ value, label }) => (
          <Button key={value} aria-pressed={value === at} onClick={() => set(value)}>
            {label}
          </Button>
        ))}
      </div>
    </fieldset>
  );
}
