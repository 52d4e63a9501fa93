import type { MeterState } from '../../../../shared/contract/api.ts';
import type { Fault } from '../../../../shared/model/faults.ts';
import { fault } from '../../../../shared/model/faults.ts';
import type { Outcome } from '../../../../shared/model/outcome.ts';
import { fail, ok } from '../../../../shared/model/outcome.ts';
import type { Profile } from '../../../../shared/model/profile.ts';
import type { Meter, MeterContext } from './meter.ts';
import { startMeter } from './meter.ts';

/** The connected meters, in the order in which they were connected. */
export interface Meters {
  /**
   * Connects the meter on `port`; one that is connected there already is disconnected first.
   * Fails with `role-taken` when another meter gives one of its channels.
   */
  connect(port: string, profile: Profile): Promise<Outcome<Meter>>;
  disconnect(port: string): Promise<void>;
  list(): readonly Meter[];
  view(): MeterState[];
  stop(): Promise<void>;
}

export function createMeters(around: MeterContext): Meters {
  const meters = new Map<string, Meter>();

  const disconnect = async (port: string) => {
    const meter = meters.get(port);
    if (!meter) return;
    meters.delete(port);
    meter.cut(); // while the port closes, what is being recorded may end
    await meter.stop();
    around.onChange();
  };

  const takenRole = (port: string, profile: Profile): Fault | undefined => {
    for (const other of meters.values()) {
      if (other.port === port) continue;
      const taken = other.profile.channels.find(({ role }) =>
        profile.channels.some((channel) => channel.role === role),
      );
      if (taken) return fault('role-taken', { role: taken.role, port: other.port });
    }
    return undefined;
  };

  return {
    async connect(port, profile) {
      const before = takenRole(port, profile);
      if (before) return fail(before);
      while (meters.has(port)) await disconnect(port);
      const meanwhile = takenRole(port, profile);
      if (meanwhile) return fail(meanwhile);
      const meter = startMeter(port, profile, around);
      meters.set(port, meter);
      around.onChange();
      return ok(meter);
    },
    disconnect,
    list: () => [...meters.values()],
    view: () => [...meters.values()].map((meter) => meter.view()),
    async stop() {
      await Promise.all([...meters.keys()].map(disconnect));
    },
  };
}
