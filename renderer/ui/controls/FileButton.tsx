import { useRef } from 'react';
import { Button } from './Button.tsx';

/** A button that opens the file picker. `name` labels the file field behind it for screen readers. */
export function FileButton({
  label,
  name,
  accept,
  multiple = false,
  disabled = false,
  onChoose,
}: {
  label: string;
  name: string;
  accept: string;
  multiple?: boolean;
  disabled?: boolean;
  onChoose: (files: readonly File[]) => void;
}) {
  const picker = useRef<HTMLInputElement>(null);
  return (
    <>
      <Button disabled={disabled} onClick={() => picker.current?.click()}>
        {label}
      </Button>
      <input
        ref={picker}
        type="file"
        className="visually-hidden"
        tabIndex={-1}
        aria-label={name}
        multiple={multiple}
        accept={accept}
        onChange={(event) => {
          onChoose([...(event.target.files ?? [])]);
          event.target.value = ''; // the same file may be chosen again
        }}
      />
    </>
  );
}
