import type { ComponentProps } from 'react';
import './Button.css';

/** A button big enough for a gloved finger. `main` is the one next thing to do, `stop` ends or discards something. */
export function Button({
  kind = 'plain',
  size = 'normal',
  ...rest
}: Omit<ComponentProps<'button'>, 'type' | 'className'> & {
  kind?: 'main' | 'plain' | 'stop';
  size?: 'normal' | 'large';
}) {
  return <button type="button" className="button" data-kind={kind} data-size={size} {...rest} />;
}
