import { useEffect, useState } from 'react';
import { Button } from './controls/Button.tsx';
import './Working.css';

/** A long-running job: its name, how long it has run, how much of it is done where that is known (`part`, 0 to 1), and a button to stop it. */
export function Working({ name, part, onCancel }: { name: string; part?: number | undefined; onCancel: () => void }) {
  const [seconds, setSeconds] = useState(0);
  useEffect(() => {
    const timer = setInterval(() => setSeconds((before) => before + 1), 1000);
    return () => clearInterval(timer);
  }, []);
  return (
    <output className="working">
      <span>
        {name}{' '}
        <span aria-hidden="true" className="figure">
          {seconds} s
        </span>
      </span>
      <progress aria-label={name} value={part} />
      <Button onClick={onCancel}>Stop</Button>
    </output>
  );
}
