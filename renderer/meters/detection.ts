import { useEffect, useRef, useState } from 'react';
import type { PortDetection } from '../../shared/contract/api.ts';
import type { Fault } from '../../shared/model/faults.ts';
import { host } from '../state/connection.ts';

/** What was heard on ports, and the ways to listen. */
export interface Detection {
  /** The newest of each port that was listened to. */
  heard: readonly PortDetection[];
  busy: boolean;
  fault: Fault | undefined;
  /** Listens to these ports; a listening under way is stopped first. */
  start(ports: string[]): void;
  stop(): void;
}

/** Listening that ends with the place it was begun on: no port is held open for nobody. */
export function useDetection(): Detection {
  const [heard, setHeard] = useState<readonly PortDetection[]>([]);
  const [busy, setBusy] = useState(false);
  const [fault, setFault] = useState<Fault>();
  const end = useRef<() => void>(() => {});
  useEffect(() => () => end.current(), []);

  const stop = () => {
    end.current();
    end.current = () => {};
    setBusy(false);
    setHeard((before) => before.filter(({ status }) => status !== 'listening'));
  };
  const start = (ports: string[]) => {
    stop();
    if (ports.length === 0) return;
    setBusy(true);
    setFault(undefined);
    end.current = host['ports.listen'](
      { ports },
      (now) => setHeard((before) => [...before.filter(({ path }) => !now.some((one) => one.path === path)), ...now]),
      (why) => {
        if (why) stop();
        setBusy(false);
        setFault(why);
      },
    );
  };
  return { heard, busy, fault, start, stop };
}
