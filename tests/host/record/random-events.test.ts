import Database from 'better-sqlite3';
import * as fc from 'fast-check';
import { afterEach, expect, it } from 'vitest';
import type { PortRequest } from '../../../electron/host/acquire/ports/port.ts';
import { createHost } from '../../../electron/host/host.ts';
import { storeFile } from '../../../electron/host/store/store-file.ts';
import { builtInProfiles } from '../../../shared/instruments/built-in.ts';
import { ok } from '../../../shared/model/outcome.ts';
import { testFolder } from '../../helpers/test-folder.ts';
import { wait, waitUntil } from '../../helpers/wait-until.ts';
import { storedCapture, interruptAsOrphan, neverAborted, valueOf } from '../test-host.ts';
import { fillDisk, freeDisk } from '../store/fill-disk.ts';

afterEach(freeDisk);

const bareNumbers = builtInProfiles.filter(({ line, channels }) => line.format === 'number' && channels.length === 1);
const profileOf = (role: string) => bareNumbers.find(({ channels }) => channels[0]?.role === role)!.name;
const ports = ['gauge', 'flame'] as const;
type Port = (typeof ports)[number];

const port = fc.constantFrom(...ports);
const step = fc.oneof(
  {
    weight: 8,
    arbitrary: fc.record({ do: fc.constant('send' as const), port, bytes: fc.integer({ min: 1, max: 60 }) }),
  },
  {
    weight: 4,
    arbitrary: fc.record({ do: fc.constant('flood' as const), port, bytes: fc.integer({ min: 1, max: 150_000 }) }),
  },
  { weight: 4, arbitrary: fc.record({ do: fc.constant('wait' as const), ms: fc.nat({ max: 80 }) }) },
  { weight: 2, arbitrary: fc.record({ do: fc.constant('lose' as const), port }) },
  ...(['mark', 'start', 'finish', 'fill disk', 'free disk', 'take over'] as const).map((what) => ({
    weight: 2,
    arbitrary: fc.record({ do: fc.constant(what) }),
  })),
);
type Step = typeof step extends fc.Arbitrary<infer S> ? S : never;

/** A host on two ports that the test controls. */
function openHost(folder: string) {
  const open = new Map<string, PortRequest>();
  const created = createHost({
    dataFolder: folder,
    practice: false,
    version: 'test',
    host: 'command',
    timing: { retryMs: 5, storeRetryMs: 20 },
    openPort: async (request) => {
      open.set(request.path, request);
      return ok({ startsOnNewLine: true, write: () => {}, close: async () => void open.delete(request.path) });
    },
  });
  return { ...valueOf(created), open };
}

/** What a meter sends, and what of it must be stored: whole lines, and the parts of lines that were cut. */
function createMeter(first: number) {
  let n = first;
  let unsent = '';
  let line = '';
  let isPart = false;
  const expected: { text: string; isPart: boolean }[] = [];
  const endLine = (recorded: boolean) => {
    if (recorded) expected.push({ text: line, isPart });
    line = '';
  };
  return {
    expected,
    next(bytes: number, recorded: boolean): string {
      while (unsent.length < bytes) unsent += `${n++}\r\n`;
      const sent = unsent.slice(0, bytes);
      unsent = unsent.slice(bytes);
      for (const byte of sent) {
        if (byte === '\r') {
          // The line ending right behind a cut ends no line.
          if (line !== '' || !isPart) endLine(recorded);
          isPart = false;
        } else if (byte !== '\n') line += byte;
      }
      return sent;
    },
    cut(recorded: boolean) {
      if (line === '') return;
      isPart = true;
      endLine(recorded);
    },
    /** The connection is over: the next one begins with a new line. */
    lose(recorded: boolean) {
      this.cut(recorded);
      unsent = '';
      isPart = false;
    },
  };
}

async function runSteps(steps: readonly Step[]) {
  const folder = testFolder();
  const { handlers, open, close } = openHost(folder);
  const meters = { gauge: createMeter(1_000_000), flame: createMeter(2_000_000) };
  const opened = (name: Port) => waitUntil(`the port ${name}`, () => open.get(name));
  let capture: string | undefined;
  const finish = async () => {
    if (capture === undefined) return;
    const all = valueOf(await handlers['captures.list']({}, neverAborted));
    const now = all.find(({ status }) => status === 'recording')?.id ?? capture;
    for (const meter of Object.values(meters)) meter.cut(true);
    const done = await handlers['captures.finish']({ capture: now }, neverAborted);
    if (done.ok) capture = undefined;
  };
  valueOf(await handlers['meters.connect']({ port: 'gauge', profile: profileOf('pilot_pressure') }, neverAborted));
  valueOf(await handlers['meters.connect']({ port: 'flame', profile: profileOf('flame_signal') }, neverAborted));
  const run = async (one: Step) => {
    switch (one.do) {
      case 'send':
      case 'flood': {
        const request = await opened(one.port);
        const bytes = Buffer.from(meters[one.port].next(one.bytes, capture !== undefined));
        for (let at = 0; at < bytes.length; at += 4095) request.onBytes(bytes.subarray(at, at + 4095));
        return;
      }
      case 'wait':
        return wait(one.ms);
      case 'lose': {
        const request = await opened(one.port);
        meters[one.port].lose(capture !== undefined);
        request.onLost();
        return void (await waitUntil('the end of the connection', () => open.get(one.port) !== request));
      }
      case 'mark':
        if (capture !== undefined)
          await handlers['captures.mark']({ capture, kind: 'note', text: 'here' }, neverAborted);
        return;
      case 'start': {
        if (capture !== undefined) return;
        const started = await handlers['captures.start']({ setup: {} }, neverAborted);
        if (started.ok) ({ capture } = started.value);
        return;
      }
      case 'finish':
        return finish();
      case 'fill disk':
        return fillDisk();
      case 'free disk':
        return freeDisk();
      case 'take over': {
        if (capture === undefined) return;
        freeDisk();
        interruptAsOrphan(folder, capture);
        const other = openHost(folder);
        await other.handlers['meters.connect']({ port: 'gauge', profile: profileOf('pilot_pressure') }, neverAborted);
        await other.handlers['captures.continue']({ capture }, neverAborted);
        await other.close();
      }
    }
  };
  for (const one of [{ do: 'start' as const }, ...steps]) await run(one);
  freeDisk();
  while (capture !== undefined) {
    await finish();
    await wait(20);
  }
  const all = valueOf(await handlers['captures.list']({}, neverAborted)).map(({ id }) => storedCapture(folder, id));
  await close();
  const db = new Database(storeFile(folder), { readonly: true });
  const unread = db.prepare('SELECT count(*) FROM unread').pluck().get();
  db.close();
  return { meters, all, unread };
}

// A busy machine may not finish all of them in time, but fewer than this would prove little.
const wantedCases = 30;
const minCases = 20;

it('after random events, each line is in one capture, once, in order, with its number; a part of a line has none', async () => {
  let cases = 0;
  await fc.assert(
    fc.asyncProperty(fc.array(step, { minLength: 10, maxLength: 30, size: 'max' }), async (steps) => {
      const { meters, all, unread } = await runSteps(steps);
      cases += 1;
      expect(unread).toBe(0);
      for (const name of ports) {
        const { expected } = meters[name];
        const found = all.flatMap(({ lines }) => lines.filter((line) => line.port === name).map(({ raw }) => raw));
        expect(found.toSorted()).toEqual(expected.map(({ text }) => text).toSorted());
        const parts = new Set(expected.filter(({ isPart }) => isPart).map(({ text }) => text));
        for (const { lines, readings } of all) {
          const whole = lines.filter((line) => line.port === name && !parts.has(line.raw)).map(({ raw }) => raw);
          expect(whole).toEqual(whole.toSorted());
          const textOf = new Map(lines.filter((line) => line.port === name).map((line) => [line.seq, line.raw]));
          const numbers = readings.filter(({ line }) => textOf.has(line!));
          expect(numbers).toHaveLength(textOf.size);
          const wrong = numbers.filter(({ line, value, flag }) => {
            const raw = textOf.get(line!)!;
            return parts.has(raw) ? flag !== 'unreadable' : value !== Number(raw);
          });
          expect(wrong).toEqual([]);
        }
      }
    }),
    { numRuns: wantedCases, interruptAfterTimeLimit: 45_000 },
  );
  expect(cases).toBeGreaterThanOrEqual(minCases);
}, 120_000);
