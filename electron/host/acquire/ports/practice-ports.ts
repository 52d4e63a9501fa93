import type { z } from 'zod';
import type { api, PortInfo, PracticeState } from '../../../../shared/contract/api.ts';
import type { Fault } from '../../../../shared/model/faults.ts';
import { fault } from '../../../../shared/model/faults.ts';
import { ok } from '../../../../shared/model/outcome.ts';
import { createPracticeBench } from '../../../../shared/practice/bench.ts';
import { scenarios } from '../../../../shared/practice/scenarios.ts';
import type { Clock } from '../../clock.ts';
import { Topic } from '../../topic.ts';
import type { OpenPort, PortRequest } from './port.ts';

type PracticeAction = z.output<(typeof api)['practice.act']['input']>;

/** The simulated burner in real time, under a burner control, and its meters as ports that can be opened like serial ports. */
export interface PracticePorts {
  ports: PortInfo[];
  topic: Topic;
  state(): PracticeState;
  /** Applies what the technician did; the fault `scenario-missing` when there is no such scenario. */
  act(action: PracticeAction): Fault | undefined;
  has(port: string): boolean;
  open: OpenPort;
  stop(): void;
}

// The meters send up to fifty lines a second.
const stepMs = 20;

export function createPracticePorts(clock: Clock): PracticePorts {
  const first = scenarios[0];
  if (!first) throw new Error('there must be a scenario');
  // The same burner with other noise at each start. The seed is the minute, so that a strange run can be reproduced.
  const seed = Math.floor(clock.wallMs() / 60_000) % 0xffff_ffff;
  let bench = createPracticeBench({ scenario: first.name, seed, hasControl: true });
  let startedMs = clock.monotonicMs();
  const connections = new Map<string, Set<PortRequest>>();
  const topic = new Topic();
  const ports: PortInfo[] = bench.ports.map(({ port, label }) => ({ path: port, label, kind: 'practice' }));

  const timer = setInterval(() => {
    const before = JSON.stringify(bench.state());
    for (const { port, text } of bench.advance(clock.monotonicMs() - startedMs))
      for (const { onBytes } of connections.get(port) ?? []) onBytes(Buffer.from(`${text}\n`));
    if (JSON.stringify(bench.state()) !== before) topic.notify();
  }, stepMs);
  timer.unref();

  return {
    ports,
    topic,
    state: () => bench.state(),
    act({ scenario, ...action }) {
      if (scenario !== undefined) {
        if (!scenarios.some(({ name }) => name === scenario)) return fault('scenario-missing', { scenario });
        bench = createPracticeBench({ scenario, seed, hasControl: bench.state().hasControl });
        startedMs = clock.monotonicMs();
      }
      bench.act(action);
      topic.notify();
      return undefined;
    },
    has: (port) => ports.some(({ path }) => path === port),
    open: async (request) => {
      const open = connections.get(request.path) ?? new Set();
      connections.set(request.path, open.add(request));
      return ok({
        startsOnNewLine: true,
        write: () => {}, // its meters send without being asked
        close: async () => {
          open.delete(request);
        },
      });
    },
    stop: () => clearInterval(timer),
  };
}
