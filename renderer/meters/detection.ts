import { useEffect, useRef, useState } from 'react';
import type { PortDetection } from '../../shared/contract/api.ts';
import type { Fault } from '../../shared/model/faults.ts';
import { host } from '../state/connection.ts';

/** What was detected on ports, and how detection is started and stopped. */
export interface Detection {
  /** The newest result for each port. */
  results: readonly PortDetection[];
  busy: boolean;
  fault: Fault | undefined;
  /** Listens to these ports; a detection that is still running is stopped first. */
  start(ports: string[]): void;
  stop(): void;
}

/** Detection of meters by listening. It ends when the component unmounts, so that no port stays open. */
export function useDetection(): Detection {
  const [results, setResults] = useState<readonly PortDetection[]>([]);
  const [busy, setBusy] = useState(false);
  const [fault, setFault] = useState<Fault>();
  const end = useRef<() => void>(() => {});
  useEffect(() => () => end.current(), []);

  const stop = () => {
    end.current();
    end.current = () => {};
    setBusy(false);
    setResults((before) => before.filter(({ status }) => status !== 'listening'));
  };
  const start = (ports: string[]) => {
    stop();
    if (ports.length === 0) return;
    setBusy(true);
    setFault(undefined);
    end.current = host['ports.listen'](
      { ports },
      (newest) =>
        setResults((before) => [...before.filter(({ path }) => !newest.some((one) => one.path === path)), ...newest]),
      (endFault) => {
        if (endFault) stop();
        setBusy(false);
        setFault(endFault);
      },
    );
  };
  return { results, busy, fault, start, stop };
}
