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
   * Fails with `role-taken` when another meter measures one of its channels.
   */
  connect(port: string, profile: Profile): Promise<Outcome<Meter>>;
  disconnect(port: string): Promise<void>;
  list(): readonly Meter[];
  view(): MeterState[];
  stop(): Promise<void>;
}

export function createMeters(context: MeterContext): Meters {
  const meters = new Map<string, Meter>();

  const disconnect = async (port: string) => {
    const meter = meters.get(port);
    if (!meter) return;
    meters.delete(port);
    meter.flush(); // the recording may end while the port closes
    await meter.stop();
    context.onChange();
  };

  /** `role-taken` when another meter measures one of the profile's channels. */
  const roleConflict = (port: string, profile: Profile): Fault | undefined => {
    for (const other of meters.values()) {
      if (other.port === port) continue;
      const shared = other.profile.channels.find(({ role }) =>
        profile.channels.some((channel) => channel.role === role),
      );
      if (shared) return fault('role-taken', { role: shared.role, port: other.port });
    }
    return undefined;
  };

  return {
    async connect(port, profile) {
      const conflict = roleConflict(port, profile);
      if (conflict) return fail(conflict);
      while (meters.has(port)) await disconnect(port);
      const newConflict = roleConflict(port, profile); // another may have been connected meanwhile
      if (newConflict) return fail(newConflict);
      const meter = startMeter(port, profile, context);
      meters.set(port, meter);
      context.onChange();
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
