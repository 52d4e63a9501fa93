import type { ReactNode } from 'react';
import { useConnection } from '../../state/connection.ts';
import './WhileConnected.css';

/** Controls that act through the host: all of them are disabled while the connection to it is lost. */
export function WhileConnected({ children }: { children: ReactNode }) {
  return (
    <fieldset className="while-connected" disabled={useConnection() === 'lost'}>
      {children}
    </fieldset>
  );
}
