import fc from 'fast-check';
import { expect, it } from 'vitest';
import { createAccess } from '../../../electron/web/access.ts';
import { Hello } from '../../../shared/contract/admission.ts';
import { api } from '../../../shared/contract/api.ts';
import type { Api } from '../../../shared/contract/api.ts';
import { decode, encode } from '../../../shared/contract/codec.ts';
import type { Handlers } from '../../../shared/contract/serve.ts';
import { serve } from '../../../shared/contract/serve.ts';
import { fault } from '../../../shared/model/faults.ts';
import { fail } from '../../../shared/model/outcome.ts';
import { mutatedBytes, mutatedJson, tryMutations } from './mutate.ts';

const asks = [
  ['captures.start', { technician: 'A. Tester', setup: { pilotTrialSeconds: 10, seed: 1 } }],
  ['captures.mark', { capture: 'c1', kind: 'note', text: 'seen', atS: 4.5 }],
  ['captures.voidSweep', { capture: 'c1', fromS: 1.5, reason: 'touched the hose' }],
  ['meters.connect', { port: '/dev/ttyUSB0', profile: 'Manometer, one number a line' }],
  ['trials.end', { capture: 'c1', lit: true, timeToProveS: 1.2, pressure: 2.4 }],
  ['trials.announce', { capture: 'c1', sparkDelayS: 5 }],
  ['network.allow', { allowed: true }],
  ['files.import', { files: [{ name: 'visit.zip', bytes: Uint8Array.of(80, 75, 3, 4) }] }],
  [
    'files.preview',
    {
      file: { name: 'a.txt', bytes: Uint8Array.of(65, 59) },
      mapping: { decimal: ',', columns: [{ column: 2, role: 'flame_signal' }] },
    },
  ],
  ['readings.live', { capture: 'c1', after: 0 }],
].map(([name, input], id) => ({ kind: 'ask', id, name, input }));

// Heads of MessagePack that claim four billion items or bytes, and its extensions (error, set, pattern, structured clone, record).
const max = [0xff, 0xff, 0xff, 0xff];
const claims = [0xdd, 0xdf, 0xc6, 0xdb, 0xc9].map((head) => [head, ...max]);
const extensions = [0x65, 0x69, 0x70, 0x72, 0x73, 0x74, 0x78, 0xff].map((type) => [0xd4, type, 0]);
const names = ['__proto__', 'constructor', 'eval', 'Function'].map((name) => [
  0xa0 + name.length,
  ...Buffer.from(name),
]);

/** Serves the whole contract to a page; every handler only notes what reached it. */
function serveNothing() {
  const reached: { name: string; input: unknown }[] = [];
  const bugs: unknown[] = [];
  const handlers = Object.fromEntries(
    Object.entries(api).map(([name, { kind }]) => {
      const note = (input: unknown) => void reached.push({ name, input });
      const call = async (input: unknown) => (note(input), fail(fault('capture-missing', { capture: 'c1' })));
      const feed = (input: unknown) => {
        note(input);
        return (async function* () {})();
      };
      return [name, kind === 'call' ? call : feed];
    }),
  ) as unknown as Handlers<Api>;
  let receive = (_message: unknown): void => {};
  let isOpen = true;
  const channel = {
    post: () => undefined,
    onMessage: (listener: typeof receive) => (receive = listener),
    onClose: () => {},
    close: () => (isOpen = false),
  };
  serve(api, handlers, channel as never, (_name, error) => bugs.push(error));
  return { reached, bugs, isOpen: () => isOpen, receive: (message: unknown) => receive(message) };
}

/** Sends a message and judges what reached a handler: only what the contract has, whole, and with numbers that are finite. */
function judge(message: unknown): boolean {
  const { reached, bugs, receive } = serveNothing();
  receive(message);
  expect(bugs).toEqual([]);
  expect(reached.length).toBeLessThanOrEqual(1);
  for (const { name, input } of reached) {
    const contract = api[name as keyof Api];
    expect(contract.input.safeParse(input).success).toBe(true);
    expect(strange(input), JSON.stringify(input)).toBeUndefined();
  }
  expect(Object.keys(Object.prototype)).toEqual([]);
  return reached.length > 0;
}

/** What a handler must never be given. */
function strange(input: unknown): string | undefined {
  if (typeof input === 'number' && !Number.isFinite(input)) return `the number ${input}`;
  if (typeof input === 'function' || typeof input === 'symbol') return `a ${typeof input}`;
  if (typeof input !== 'object' || input === null || input instanceof Uint8Array) return undefined;
  const prototype: unknown = Object.getPrototypeOf(input);
  if (prototype !== Object.prototype && prototype !== Array.prototype && prototype !== null)
    return 'an object of a class';
  return Object.values(input).map(strange).find(Boolean);
}

it('mutated messages, part by part: refused, or what the contract allows', () => {
  const anyAsk = fc.constantFrom(...asks);
  const whole = anyAsk.chain(mutatedJson);
  const inItsInput = anyAsk.chain((ask) => mutatedJson(ask.input).map((input) => ({ ...ask, input })));
  tryMutations('messages', fc.oneof(whole, inItsInput, inItsInput), judge);
});

it('mutated messages, in their bytes: no message at all, or what the contract allows', () => {
  const bytes = fc
    .constantFrom(...asks)
    .chain((ask) => mutatedBytes(encode(ask), [...claims, ...extensions, ...names]));
  tryMutations('messages in their bytes', bytes, (message) => {
    let decoded: unknown;
    try {
      decoded = decode(message);
    } catch {
      return false; // the host closes the socket
    }
    return judge(decoded);
  });
});

it('mutated hellos of a page that is not admitted yet: let in only with a whole key or token', () => {
  const hello = fc.constantFrom('key', 'token').chain((shown) => {
    const access = createAccess();
    const key = access.newKey();
    const secret = shown === 'key' ? key : access.admit({ key })!;
    return mutatedBytes(encode({ kind: 'hello', [shown]: secret }), [...claims, ...extensions, ...names]).map(
      (bytes) => ({
        access,
        secret,
        bytes,
      }),
    );
  });
  tryMutations('hellos', hello, ({ access, secret, bytes }) => {
    let read: Hello | undefined;
    try {
      read = Hello.safeParse(decode(bytes)).data;
    } catch {
      return false;
    }
    const token = read && access.admit(read);
    if (token !== undefined) expect(Buffer.from(bytes).includes(secret)).toBe(true);
    return token !== undefined;
  });
});

it('the messages that are mutated count unless they are', () => {
  const access = createAccess();
  expect(access.admit(Hello.parse(decode(encode({ kind: 'hello', key: access.newKey() }))))).toBeTypeOf('string');
  for (const ask of asks) {
    const { reached, receive } = serveNothing();
    receive(decode(encode(ask)));
    expect(reached.map(({ name }) => name)).toEqual([ask.name]);
  }
});
