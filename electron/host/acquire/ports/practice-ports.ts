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

/** The invented burner in real time, and its meters as ports that anything may open like a serial port. */
export interface PracticePorts {
  ports: PortInfo[];
  topic: Topic;
  state(): PracticeState;
  /** Does what the technician did; a fault when there is no such scenario. */
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
  // Each start is another day: other noise, the same burner. The seed is the minute, so that a strange one can be found again.
  const seed = Math.floor(clock.wallMs() / 60_000) % 0xffff_ffff;
  let bench = createPracticeBench({ scenario: first.name, seed });
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
        bench = createPracticeBench({ scenario, seed });
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
        beginsWhole: true,
        write: () => {}, // its meters talk by themselves
        close: async () => {
          open.delete(request);
        },
      });
    },
    stop: () => clearInterval(timer),
  };
}
