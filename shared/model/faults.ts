/**
 * Every fault that is expected to happen, with the sentence people read.
 * The code is for programs, the sentence for the technician: it names what and where, and what to do when that is known.
 */
const sentences = {
  // ports and meters
  'port-missing': (f: { port: string }) => `There is no port ${f.port}. Check the cable, or choose another port.`,
  'port-busy': (f: { port: string; holder?: string }) =>
    `Port ${f.port} is in use by ${f.holder ?? 'another program'}. Close it there and try again.`,
  'port-denied': (f: { port: string; help: string }) => `This user may not open port ${f.port}. ${f.help}`,
  'port-not-serial': (f: { port: string }) => `${f.port} is not a serial port. Choose another.`,
  'port-failed': (f: { port: string; reason: string }) => `Port ${f.port} could not be opened: ${f.reason}.`,
  'port-lost': (f: { port: string }) =>
    `Port ${f.port} went away. Everything it sent is kept; it is tried again until it returns.`,
  'ports-unlisted': (f: { reason: string }) =>
    `The ports of this computer could not be listed: ${f.reason}. Type the name of the port instead.`,
  'network-off': (f: { port: string }) =>
    `${f.port} is on the network, which is not used unless it is allowed. Switch on "Meters on the network", or give --allow-network.`,
  'network-address': (f: { port: string }) =>
    `${f.port} is no network address of a meter. Write it as tcp://host:port, such as tcp://192.168.1.20:4001 or tcp://[::1]:4001.`,
  'network-refused': (f: { port: string }) =>
    `${f.port} refused the connection. Check the port number, and that no other program uses this serial server.`,
  'network-unreachable': (f: { port: string }) =>
    `${f.port} cannot be reached from here. Check the network cable and the address.`,
  'network-name-unknown': (f: { port: string }) =>
    `The name in ${f.port} is not known on this network. Check its spelling, or give the address in numbers.`,
  'network-timeout': (f: { port: string; seconds: number }) =>
    `${f.port} did not answer within ${f.seconds} s. Check that the serial server is on and the address is right.`,
  'network-failed': (f: { port: string; reason: string }) => `${f.port} could not be connected: ${f.reason}.`,
  'network-closed': (f: { port: string }) =>
    `${f.port} closed the connection. Everything it sent is kept; it is tried again until it returns.`,
  'network-lost': (f: { port: string; reason: string }) =>
    `The connection to ${f.port} broke (${f.reason}). Everything it sent is kept; it is tried again until it returns.`,
  'meter-silent': (f: { port: string; seconds: number }) =>
    `The meter on ${f.port} has sent nothing for ${f.seconds} s. Check that it is on and set to send.`,
  'meter-unanswering': (f: { port: string; seconds: number }) =>
    `The meter on ${f.port} has not answered for ${f.seconds} s. Check that it is on, its cable, its baud rate and what its profile asks.`,
  'meter-unreadable': (f: { port: string; sample: string }) =>
    `The meter on ${f.port} sends lines that its profile cannot read, such as "${f.sample}". Check the baud rate and the profile.`,
  'meter-endless': (f: { port: string }) =>
    `The meter on ${f.port} sends, but never ends a line, so nothing can be read. Everything is kept. Set it to end its lines with CR or LF, and check its baud rate.`,
  'meter-garbled': (f: { port: string; baudRate: number }) =>
    `${f.port} sends, but not readable text at ${f.baudRate} baud. Listen to find its speed.`,
  'network-garbled': (f: { port: string }) =>
    `${f.port} sends, but no readable text. Set the meter's speed on the serial server.`,
  'modbus-refused': (f: { port: string; register: string; reason: string; code: number }) =>
    `The meter on ${f.port} refuses to give ${f.register}: ${f.reason} (Modbus exception ${f.code}). ${
      f.code <= 3 ? 'Check function and address in its profile.' : 'It is asked again.'
    }`,
  'modbus-damaged': (f: { port: string; sample: string }) =>
    `What comes from ${f.port} is cut short or its check sum is wrong, such as ${f.sample}. Check baud rate, parity and wiring.`,
  'modbus-foreign': (f: { port: string; unit: number; asked: number }) =>
    f.unit === f.asked
      ? `The meter on ${f.port} answers another question than it was asked. Check that nothing else asks on this line.`
      : `Unit ${f.unit} answers on ${f.port}, but unit ${f.asked} was asked. Check unitId in the profile.`,
  'modbus-late': (f: { port: string }) =>
    `An answer came from ${f.port} when none was awaited. It is kept, but not used, as it may be an old one.`,
  'meter-bursts': (f: { port: string; lines: number; seconds: number }) =>
    `The meter on ${f.port} holds its lines back and sends ${f.lines} at once: its times are good to ${f.seconds} s at best. Set it to send each reading as it is measured.`,
  'profile-invalid': (f: { profile: string; problems: string }) =>
    `The profile "${f.profile}" cannot be used: ${f.problems}.`,
  'profile-missing': (f: { profile: string }) => `There is no instrument profile called "${f.profile}".`,
  'role-taken': (f: { role: string; port: string }) => `${f.port} already gives ${f.role}. Disconnect it first.`,

  // files
  'file-missing': (f: { file: string }) => `There is no file ${f.file}.`,
  'file-unreadable': (f: { file: string; reason: string }) => `${f.file} could not be read: ${f.reason}.`,
  'file-unwritable': (f: { file: string; reason: string }) => `${f.file} could not be written: ${f.reason}.`,
  'file-kind-unknown': (f: { file: string }) =>
    `${f.file} is neither a CSV file nor a data package (a .zip, or a folder with datapackage.json).`,
  'file-too-large': (f: { file: string; found: string; most: string }) =>
    `${f.file} is too large to be read: it holds ${f.found}, and at most ${f.most} are taken. Split it.`,
  'csv-empty': (f: { file: string }) => `${f.file} holds no rows of readings.`,
  'csv-no-elapsed': (f: { file: string; found: string }) =>
    `${f.file}: the first column must be elapsed_s, but it is "${f.found}".`,
  'csv-no-channel': (f: { file: string; found: string }) =>
    `${f.file} has no column that Pilot Bench knows, such as pilot_pressure_inH2O or flame_signal_V. Its columns are ${f.found}.`,
  'csv-column-twice': (f: { file: string; column: string }) =>
    `${f.file} has two columns for ${f.column}. Keep one of them.`,
  'trials-invalid': (f: { file: string; line: number; problem: string }) => `${f.file}, line ${f.line}: ${f.problem}.`,
  'setup-invalid': (f: { file: string; problems: string }) => `${f.file} cannot be used: ${f.problems}.`,
  'package-invalid': (f: { file: string; problems: string }) =>
    `${f.file} is not a data package that can be used: ${f.problems}.`,

  // analysis
  'no-pressure': () => 'The capture holds no pilot pressure reading with a number in it, so there is no curve to find.',
  'no-signal': () => 'The capture holds no flame signal reading with a number in it, so there is no curve to find.',
  'too-few-pairs': (f: { pairs: number; least: number }) =>
    `Only ${f.pairs} readings of pressure and signal belong together; at least ${f.least} are needed.`,
  'one-pressure': (f: { pressure: string }) =>
    `All readings are at one pressure (${f.pressure}). Turn the regulator through its range to find the window.`,
  'units-differ': (f: { before: string; after: string }) =>
    `The two sweeps measure the flame signal in different kinds of unit (${f.before} and ${f.after}) and cannot be compared.`,
  cancelled: () => 'The work was stopped before it was done.',

  // store and captures
  'store-missing': (f: { folder: string }) => `There is no store in the folder ${f.folder}, so no captures either.`,
  'store-damaged': (f: { file: string; reason: string }) =>
    `The store ${f.file} is damaged (${f.reason}). It was left untouched. Start with another --data folder, or restore a backup.`,
  'store-newer': (f: { file: string; found: number; known: number }) =>
    `The store ${f.file} was written by a newer Pilot Bench (version ${f.found}, this one knows ${f.known}). Update Pilot Bench.`,
  'store-unavailable': (f: { file: string; reason: string }) => `The store ${f.file} could not be opened: ${f.reason}.`,
  'store-full': (f: { waiting: number }) =>
    f.waiting === 0
      ? 'The disk is full, so this could not be kept. Free some space and try again.'
      : `The disk is full. ${f.waiting} lines are held in memory and not yet safe. Free some space now; do not close Pilot Bench.`,
  'store-gone': (f: { file: string }) =>
    `The store ${f.file} was deleted or moved while it is in use, so nothing is safe any more. End Pilot Bench now: it saves what is being recorded in a file of its own.`,
  'store-shared': (f: { pid: number; capture: string }) =>
    `Another Pilot Bench (process ${f.pid}) is recording capture ${f.capture} into this store. Both can go on; nothing is mixed.`,
  'capture-taken': (f: { capture: string; now: string }) =>
    `Another Pilot Bench took up capture ${f.capture} while this one could not be heard. What the meters send here now goes into capture ${f.now}, so that nothing is mixed or lost.`,
  'lines-rescued': (f: { lines: number; capture: string; file: string }) =>
    `${f.lines} lines of capture ${f.capture} could not be stored. The whole capture, with them, is in ${f.file}. Once there is room, import that file.`,
  'lines-unsaved': (f: { lines: number; capture: string; reason: string }) =>
    `${f.lines} lines of capture ${f.capture} are neither in the store nor in a file: ${f.reason}.`,
  'capture-missing': (f: { capture: string }) => `There is no capture ${f.capture} in the store.`,
  'capture-differs': (f: { file: string; capture: string; parts: string }) =>
    `${f.file}: the store has capture ${f.capture} already, but not as it stands in this file: they differ in their ${f.parts}. The store's was left as it is.`,
  'file-or-capture-missing': (f: { what: string }) =>
    `There is no file ${f.what}, and no capture of that name in the store.`,
  'capture-ambiguous': (f: { capture: string }) =>
    `More than one capture begins with ${f.capture}. Give more of its id.`,
  'capture-closed': () => 'This capture is complete and is not changed any more. Add a note beside it instead.',
  'capture-elsewhere': () => 'This capture is being recorded by another Pilot Bench on this computer. Finish it there.',
  'capture-goes-on': () => 'This capture is being recorded again, perhaps from another window. Open it to finish it.',
  'capture-recording': () => 'A capture is being recorded already. Finish it first.',
  'not-recording': () => 'Nothing is being recorded. Start recording first.',
  'burner-missing': () => 'That burner is not in the store.',
  'no-meters': () => 'No meter is connected. Connect the manometer and the flame signal meter first.',
  'purge-wait': (f: { seconds: number }) =>
    `Purge first: ${f.seconds} s of the purge wait are left before the next trial.`,
  'no-live-pressure': () => 'There is no live pilot pressure. Check the manometer before this step.',
  'sweep-missing': () => 'No sweep is running. Begin one first.',
  'trial-missing': () => 'That light-off trial is not running.',
  'trial-running': () => 'A light-off trial is running. End it first.',

  // practice
  'practice-off': () => 'The practice bench is switched off here.',
  'scenario-missing': (f: { scenario: string }) => `The practice bench has no scenario called "${f.scenario}".`,

  // calls
  'call-unknown': (f: { name: string }) => `There is no call named ${f.name}.`,
  'input-invalid': (f: { problems: string }) => `That cannot be used: ${f.problems}.`,
  'too-many-calls': () => 'Too much was asked of Pilot Bench at once. Wait for some of it to be done.',
  'message-too-large': (f: { megabytes: number; most: number }) =>
    `That is ${f.megabytes} MB at once; at most ${f.most} MB can be handed over. Import the files one by one.`,
  'address-in-use': (f: { port: number }) =>
    `Port ${f.port} of this computer is in use by another program. Give another --port, or none.`,
  'page-missing': (f: { folder: string }) =>
    `The pages of the workbench are not in ${f.folder}. Make them with "npm run build".`,
  'host-gone': () => 'The connection to Pilot Bench was lost. Recording goes on; this window tries to reconnect.',
  internal: (f: { what: string }) => `Something went wrong inside Pilot Bench (${f.what}). What was recorded is safe.`,
} as const;

export type FaultCode = keyof typeof sentences;
export const faultCodes = Object.keys(sentences) as FaultCode[];
type FactsOf<C extends FaultCode> = Parameters<(typeof sentences)[C]> extends [infer F] ? F : undefined;

/** A fault as it travels: `code` for programs, `message` for people, `facts` the values in the sentence. */
export interface Fault {
  code: FaultCode;
  message: string;
  facts?: Record<string, string | number>;
}

/** Makes the fault `code`; `facts` are the values its sentence needs. */
export function fault<C extends FaultCode>(
  code: C,
  ...rest: FactsOf<C> extends undefined ? [] : [facts: FactsOf<C>]
): Fault {
  const facts = rest[0] as Record<string, string | number> | undefined;
  const sentence = sentences[code] as (facts: unknown) => string;
  return { code, message: sentence(facts), ...(facts && { facts }) };
}
