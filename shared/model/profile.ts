import { z } from 'zod';
import { roles, unitFits } from './reading.ts';
import { PressureUnit, sameSignalKind, SignalUnit } from './units.ts';

/** Modbus functions that read: 3 holding registers, 4 input registers. No other is ever sent. */
const RegisterFunction = z.literal([3, 4]);
/** As it goes over the wire, from 0: holding register 40001 of a manual is address 0, 40108 is 107. */
const RegisterAddress = z.number().int().min(0).max(65_535);
const RegisterType = z.enum(['int16', 'uint16', 'int32', 'float32']);
/** Which half of 32 bits is in the first of the two registers; within a register the high byte always comes first. */
const WordOrder = z.enum(['big', 'little']);

/** More than a line of 512 characters could hold. */
const mostFields = 1000;

const Channel = z
  .object({
    role: z.enum(roles),
    unit: z.string(),
    /** value = scale x number + offset, in `unit`. */
    scale: z
      .number()
      .refine((scale) => scale !== 0, 'must not be 0: every reading would be the same')
      .default(1),
    offset: z.number().default(0),
    /** For `delimited` and `scpi`: which field, counted from 0. `scpi` takes the channel's own position when it is left out. */
    field: z.number().int().min(0).max(mostFields).optional(),
    /** For `modbus-rtu`: what differs from the line's own. */
    function: RegisterFunction.optional(),
    address: RegisterAddress.optional(),
    type: RegisterType.optional(),
    wordOrder: WordOrder.optional(),
  })
  .refine((channel) => unitFits(channel.role, channel.unit), {
    error: (issue) => {
      const { role, unit } = issue.input as { role: string; unit: string };
      return `${role} cannot be in ${unit}`;
    },
  });

/** Blanks beside it or not: a delimiter of characters that stand in numbers would cut them in two. */
const Delimiter = z
  .string()
  .min(1)
  .max(4)
  .refine((delimiter) => !/^\s*[\d.eE+\-\u2212]+\s*$/u.test(delimiter), 'digits, signs, "." and "e" stand in numbers');

const Line = z.discriminatedUnion('format', [
  z.object({ format: z.literal('number') }),
  z.object({ format: z.literal('delimited'), delimiter: Delimiter }),
  z.object({ format: z.literal('pattern'), pattern: z.string().min(1).max(400) }),
  z.object({ format: z.literal('scpi') }),
  z.object({
    format: z.literal('modbus-rtu'),
    /** The meter's address on the line. */
    unitId: z.number().int().min(1).max(247),
    function: RegisterFunction,
    address: RegisterAddress,
    type: RegisterType,
    wordOrder: WordOrder.default('big'),
  }),
]);

/** How one meter is connected and read: CONTRACTS-stable JSON, built in or the user's own file. */
export const Profile = z
  .object({
    name: z
      .string()
      .min(1)
      .max(80)
      .refine((name) => !/^\s+$/u.test(name), 'must not be blanks only')
      .refine((name) => !/[\p{Cc}\u2028\u2029]/u.test(name), 'must be one line of text'),
    serial: z
      .object({
        baudRate: z.number().int().min(50).max(4_000_000).default(9600),
        dataBits: z.literal([7, 8]).default(8),
        parity: z.enum(['none', 'even', 'odd']).default('none'),
        stopBits: z.literal([1, 2]).default(1),
      })
      .prefault({}),
    mode: z.enum(['stream', 'poll']).default('stream'),
    /** What asks the meter for a line. `modbus-rtu` makes its own requests and has no `send`. */
    poll: z
      .object({ send: z.string().min(1).max(100).optional(), everyMs: z.number().int().min(20).max(60_000) })
      .optional(),
    line: Line,
    channels: z.array(Channel).min(1).max(8),
    /** What the meter prints in place of a number beyond its range. Some print a number of their own, such as 9999. */
    overload: z.array(z.string().min(1)).default(['OL', '-OL', '----']),
    accuracy: z
      .object({
        percentOfReading: z.number().min(0).default(0),
        absolute: z.number().min(0).default(0),
        unit: z.union([PressureUnit, SignalUnit]),
      })
      .optional(),
  })
  .superRefine((profile, context) => {
    const say: Say = (path, message) => context.addIssue({ code: 'custom', path, message });
    if (profile.line.format === 'modbus-rtu') sayRegisterProblems(profile, say);
    else if (profile.mode === 'poll' && !profile.poll?.send)
      say(['poll', 'send'], 'mode is poll, but poll says nothing to send');
    sayChannelProblems(profile, say);
    if (profile.line.format === 'number' && profile.channels.length > 1)
      say(['channels'], 'the format number reads one channel; use delimited or pattern for more');
    const { accuracy, channels } = profile;
    if (accuracy && !channels.some(({ unit }) => sameKind(unit, accuracy.unit)))
      say(['accuracy', 'unit'], `no channel can be in ${accuracy.unit}`);
  });
export type Profile = z.infer<typeof Profile>;
export type RegisterLine = Extract<Profile['line'], { format: 'modbus-rtu' }>;

/** Registers (of 16 bits) that one number of the type takes. */
export const registersOf = (type: RegisterLine['type']): 1 | 2 => (type === 'int16' || type === 'uint16' ? 1 : 2);

/** What a Modbus profile asks for one channel: the line's own facts where the channel says nothing else. */
export function registerOf(line: RegisterLine, channel: Profile['channels'][number]) {
  return {
    function: channel.function ?? line.function,
    address: channel.address ?? line.address,
    type: channel.type ?? line.type,
    wordOrder: channel.wordOrder ?? line.wordOrder,
  };
}

/** Says what is wrong, and where: the path of the key. */
type Say = (path: (string | number)[], message: string) => void;

/** Whether both are units of pressure, or of the same kind of signal. */
function sameKind(one: string, other: PressureUnit | SignalUnit): boolean {
  const [pressure, signal] = [PressureUnit.safeParse(one), SignalUnit.safeParse(one)];
  const otherSignal = SignalUnit.safeParse(other);
  return otherSignal.success ? signal.success && sameSignalKind(signal.data, otherSignal.data) : pressure.success;
}

function sayChannelProblems({ line, channels }: Pick<Profile, 'line' | 'channels'>, say: Say): void {
  const seen = new Set<string>();
  const fields = new Map<number, string>();
  for (const [place, { role, field: given }] of channels.entries()) {
    if (seen.has(role)) say(['channels', place, 'role'], `two channels give ${role}`);
    seen.add(role);
    if (line.format !== 'delimited' && line.format !== 'scpi') continue;
    const field = line.format === 'scpi' ? (given ?? place) : given;
    if (field === undefined) {
      say(['channels', place, 'field'], `the channel ${role} does not say which field it is`);
      continue;
    }
    const other = fields.get(field);
    if (other !== undefined)
      say(['channels', place, 'field'], `the channels ${other} and ${role} are the same field, ${field}`);
    fields.set(field, role);
  }
}

function sayRegisterProblems(
  { line, mode, poll, serial, channels }: Pick<Profile, 'line' | 'mode' | 'poll' | 'serial' | 'channels'>,
  say: Say,
): void {
  if (line.format !== 'modbus-rtu') return;
  if (mode !== 'poll') say(['mode'], 'modbus-rtu answers only when it is asked: mode must be poll');
  else if (!poll) say(['poll', 'everyMs'], 'mode is poll, but poll does not say every how many milliseconds (everyMs)');
  if (serial.dataBits !== 8) say(['serial', 'dataBits'], 'modbus-rtu needs 8 data bits');
  const asked = new Map<string, string>();
  for (const [place, channel] of channels.entries()) {
    const at = ['channels', place, 'address'];
    const { function: code, address, type } = registerOf(line, channel);
    const other = asked.get(`${code} ${address}`);
    if (other !== undefined) say(at, `the channels ${other} and ${channel.role} read the same register, ${address}`);
    asked.set(`${code} ${address}`, channel.role);
    if (address < 65_536 && address + registersOf(type) > 65_536)
      say(at, `the channel ${channel.role} reads ${type} from address ${address}, beyond the last register, 65535`);
  }
}
