import { z } from 'zod';
import { roles, unitFits } from './reading.ts';
import { PressureUnit, sameSignalKind, SignalUnit } from './units.ts';

/** Modbus functions that read: 3 holding registers, 4 input registers. No other is ever sent. */
const RegisterFunction = z.literal([3, 4]);
/** Address on the wire, from 0: holding register 40001 of a manual is address 0, 40108 is 107. */
const RegisterAddress = z.number().int().min(0).max(65_535);
const RegisterType = z.enum(['int16', 'uint16', 'int32', 'float32']);
/** Which half of a 32-bit number is in the first of its two registers; within a register the high byte comes first. */
const WordOrder = z.enum(['big', 'little']);

/** More than fit into a line of 512 characters. */
const maxFields = 1000;

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
    /** For `delimited` and `scpi`: which field, counted from 0. Without it, `scpi` uses the channel's own position. */
    field: z.number().int().min(0).max(maxFields).optional(),
    /** For `modbus-rtu`: overrides of the line's values. */
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

/** With or without spaces around it; a delimiter made of characters that occur in numbers would split them. */
const Delimiter = z
  .string()
  .min(1)
  .max(4)
  .refine(
    (delimiter) => !/^\s*[\d.eE+\-\u2212]+\s*$/u.test(delimiter),
    'digits, signs, "." and "e" occur in numbers and cannot separate them',
  );

const Line = z.discriminatedUnion('format', [
  z.object({ format: z.literal('number') }),
  z.object({ format: z.literal('delimited'), delimiter: Delimiter }),
  z.object({ format: z.literal('pattern'), pattern: z.string().min(1).max(400) }),
  z.object({ format: z.literal('scpi') }),
  z.object({
    format: z.literal('modbus-rtu'),
    /** The meter's address on the bus. */
    unitId: z.number().int().min(1).max(247),
    function: RegisterFunction,
    address: RegisterAddress,
    type: RegisterType,
    wordOrder: WordOrder.default('big'),
  }),
]);

/**
 * What a poll writes: a line of text. Anything else could be a command of another protocol, and a colon with hexadecimal digits is one
 * of Modbus ASCII, which may write a register (Modbus over Serial Line V1.02, 2.5.2.1).
 */
const Request = z
  .string()
  .min(1)
  .max(100)
  .refine((text) => /^[\t\r\n\x20-\x7e]*$/u.test(text), 'may hold printable ASCII, tab, CR and LF only')
  .refine(
    (text) => !/:[\da-f]{6,}\s*$/imu.test(text),
    'must not hold a colon and hexadecimal digits: a Modbus ASCII frame',
  );

/** How one meter is connected and decoded: a stable JSON format, built in or the user's own file. */
export const Profile = z
  .object({
    name: z
      .string()
      .min(1)
      .max(80)
      .refine((name) => !/^\s+$/u.test(name), 'must not be blank')
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
    /** The request for a line. `modbus-rtu` builds its own requests and has no `send`. */
    poll: z.object({ send: Request.optional(), everyMs: z.number().int().min(20).max(60_000) }).optional(),
    line: Line,
    channels: z.array(Channel).min(1).max(8),
    /** What the meter prints instead of a number when out of range. Some print a special number, such as 9999. */
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
    const addIssue: AddIssue = (path, message) => context.addIssue({ code: 'custom', path, message });
    if (profile.line.format === 'modbus-rtu') checkRegisters(profile, addIssue);
    else if (profile.mode === 'poll' && !profile.poll?.send)
      addIssue(['poll', 'send'], 'mode is poll, but poll.send is missing');
    checkChannels(profile, addIssue);
    if (profile.line.format === 'number' && profile.channels.length > 1)
      addIssue(['channels'], 'the format "number" reads one channel; use "delimited" or "pattern" for more');
    const { accuracy, channels } = profile;
    if (accuracy && !channels.some(({ unit }) => sameKind(unit, accuracy.unit)))
      addIssue(['accuracy', 'unit'], `no channel has a unit that can be converted to ${accuracy.unit}`);
  });
export type Profile = z.infer<typeof Profile>;
export type RegisterLine = Extract<Profile['line'], { format: 'modbus-rtu' }>;

/** How many 16-bit registers one number of the type takes. */
export const registerCount = (type: RegisterLine['type']): 1 | 2 => (type === 'int16' || type === 'uint16' ? 1 : 2);

/** The register of one channel of a Modbus profile: the line's values where the channel does not override them. */
export function registerOf(line: RegisterLine, channel: Profile['channels'][number]) {
  return {
    function: channel.function ?? line.function,
    address: channel.address ?? line.address,
    type: channel.type ?? line.type,
    wordOrder: channel.wordOrder ?? line.wordOrder,
  };
}

/** Reports what is wrong, and where: the path of the key. */
type AddIssue = (path: (string | number)[], message: string) => void;

/** Whether both are units of pressure, or of the same kind of signal. */
function sameKind(one: string, other: PressureUnit | SignalUnit): boolean {
  const [pressure, signal] = [PressureUnit.safeParse(one), SignalUnit.safeParse(one)];
  const otherSignal = SignalUnit.safeParse(other);
  return otherSignal.success ? signal.success && sameSignalKind(signal.data, otherSignal.data) : pressure.success;
}

function checkChannels({ line, channels }: Pick<Profile, 'line' | 'channels'>, addIssue: AddIssue): void {
  const rolesUsed = new Set<string>();
  const fields = new Map<number, string>();
  for (const [index, { role, field: own }] of channels.entries()) {
    if (rolesUsed.has(role)) addIssue(['channels', index, 'role'], `two channels have the role ${role}`);
    rolesUsed.add(role);
    if (line.format !== 'delimited' && line.format !== 'scpi') continue;
    const field = line.format === 'scpi' ? (own ?? index) : own;
    if (field === undefined) {
      addIssue(['channels', index, 'field'], `the channel ${role} has no field number`);
      continue;
    }
    const other = fields.get(field);
    if (other !== undefined)
      addIssue(['channels', index, 'field'], `the channels ${other} and ${role} use the same field, ${field}`);
    fields.set(field, role);
  }
}

function checkRegisters(
  { line, mode, poll, serial, channels }: Pick<Profile, 'line' | 'mode' | 'poll' | 'serial' | 'channels'>,
  addIssue: AddIssue,
): void {
  if (line.format !== 'modbus-rtu') return;
  if (mode !== 'poll') addIssue(['mode'], 'a modbus-rtu meter answers only when polled: mode must be poll');
  else if (!poll)
    addIssue(['poll', 'everyMs'], 'mode is poll, but poll.everyMs (milliseconds between requests) is missing');
  if (serial.dataBits !== 8) addIssue(['serial', 'dataBits'], 'modbus-rtu needs 8 data bits');
  const requested = new Map<string, string>();
  for (const [index, channel] of channels.entries()) {
    const at = ['channels', index, 'address'];
    const { function: code, address, type } = registerOf(line, channel);
    const other = requested.get(`${code} ${address}`);
    if (other !== undefined)
      addIssue(at, `the channels ${other} and ${channel.role} read the same register, ${address}`);
    requested.set(`${code} ${address}`, channel.role);
    if (address < 65_536 && address + registerCount(type) > 65_536)
      addIssue(at, `the channel ${channel.role} reads ${type} from address ${address}, past the last register, 65535`);
  }
}
