/** What a signal without the pilot's flame may come from, as a sentence. */
export const otherSources =
  'Find out what it comes from before any light-off: another flame, a spark, a jumper or a fault of the amplifier.';

/**
 * Every expected fault, with the sentence people read.
 * The code is for programs, the sentence for the technician: it says what happened, where, and what to do about it.
 */
const sentences = {
  // ports and meters
  'port-missing': (f: { port: string }) => `There is no port ${f.port}. Check the cable, or choose another port.`,
  'port-busy': (f: { port: string; holder?: string }) =>
    `Port ${f.port} is in use by ${f.holder ?? 'another program'}. Close the port there and try again.`,
  'port-denied': (f: { port: string; help: string }) => `You do not have permission to open port ${f.port}. ${f.help}`,
  'port-not-serial': (f: { port: string }) => `${f.port} is not a serial port. Choose another port.`,
  'port-failed': (f: { port: string; reason: string }) =>
    `Port ${f.port} could not be opened: ${f.reason}. Unplug it, plug it back in and try again.`,
  'port-lost': (f: { port: string }) =>
    `Port ${f.port} was disconnected. Everything it sent is kept. Plug it back in; Pilot Bench keeps trying to reopen it.`,
  'ports-unlisted': (f: { reason: string }) =>
    `The serial ports of this computer could not be listed: ${f.reason}. Type the name of the port instead.`,
  'network-off': (f: { port: string }) =>
    `${f.port} is a network connection, and those are off. Turn on "Meters on the network", or add --allow-network.`,
  'network-address': (f: { port: string }) =>
    `${f.port} is not a valid network address for a meter. Enter it as tcp://host:port, such as tcp://192.168.1.20:4001 or tcp://[::1]:4001.`,
  'network-refused': (f: { port: string }) =>
    `${f.port} refused the connection. Check the port number, and make sure that no other program is using this serial server.`,
  'network-unreachable': (f: { port: string }) =>
    `${f.port} cannot be reached. Check the network cable and the address.`,
  'network-name-unknown': (f: { port: string }) =>
    `The host name in ${f.port} is unknown on this network. Check the spelling, or enter the IP address.`,
  'network-timeout': (f: { port: string; seconds: number }) =>
    `${f.port} did not answer within ${f.seconds} s. Check that the serial server is turned on and the address is right.`,
  'network-failed': (f: { port: string; reason: string }) =>
    `Could not connect to ${f.port}: ${f.reason}. Check the address and the serial server.`,
  'network-closed': (f: { port: string }) =>
    `${f.port} closed the connection. Everything it sent is kept; Pilot Bench keeps trying to reconnect.`,
  'network-lost': (f: { port: string; reason: string }) =>
    `The connection to ${f.port} was lost (${f.reason}). Everything it sent is kept; Pilot Bench keeps trying to reconnect.`,
  'meter-silent': (f: { port: string; seconds: number }) =>
    `The meter on ${f.port} has sent nothing for ${f.seconds} s. Check that it is turned on and set to send readings.`,
  'meter-unanswering': (f: { port: string; seconds: number }) =>
    `The meter on ${f.port} has not answered for ${f.seconds} s. Check that it is turned on, its cable, its baud rate and the request in its profile.`,
  'meter-unreadable': (f: { port: string; sample: string }) =>
    `The meter on ${f.port} sends lines that its profile cannot read, such as "${f.sample}". Check the baud rate and the profile.`,
  'meter-endless': (f: { port: string }) =>
    `The meter on ${f.port} sends data without line endings, so nothing can be read. All of it is kept. Set the meter to end each line with CR or LF, and check the baud rate.`,
  'meter-flooding': (f: { port: string }) =>
    `The meter on ${f.port} was disconnected because it sent more lines than can be read. What came before is kept. Check what is connected there and its profile, then connect it again.`,
  'meter-garbled': (f: { port: string; baudRate: number }) =>
    `Data arrives on ${f.port}, but at ${f.baudRate} baud it is not readable text. Listen on the port to find the right speed.`,
  'network-garbled': (f: { port: string }) =>
    `Data arrives from ${f.port}, but it is not readable text. Set the meter's baud rate on the serial server.`,
  'modbus-refused': (f: { port: string; register: string; reason: string; code: number }) =>
    `The meter on ${f.port} does not return ${f.register}: ${f.reason} (Modbus exception ${f.code}). ${
      f.code <= 3 ? 'Check the function and address in its profile.' : 'Pilot Bench will ask again.'
    }`,
  'modbus-damaged': (f: { port: string; sample: string }) =>
    `Answers from ${f.port} are cut short or have a wrong checksum, such as ${f.sample}. Check the baud rate, parity and wiring.`,
  'modbus-foreign': (f: { port: string; unit: number; asked: number }) =>
    f.unit === f.asked
      ? `The meter on ${f.port} answered a different request from the one sent. Make sure that nothing else polls it.`
      : `Unit ${f.unit} answered on ${f.port}, but unit ${f.asked} was asked. Check unitId in the profile.`,
  'modbus-late': (f: { port: string }) =>
    `An answer arrived from ${f.port} when none was expected. It is kept but not used, because it may be an old one. If this repeats, raise everyMs in the profile.`,
  'meter-bursts': (f: { port: string; lines: number; seconds: number }) =>
    `The meter on ${f.port} sends its lines in bursts of ${f.lines}, so their times are good to ${f.seconds} s at best. Set it to send each reading as it is taken.`,
  'profile-invalid': (f: { profile: string; problems: string }) =>
    `The profile "${f.profile}" cannot be used: ${f.problems}.`,
  'profile-missing': (f: { profile: string }) =>
    `There is no instrument profile called "${f.profile}". Choose another, or give the path of a profile file.`,
  'role-taken': (f: { role: string; port: string }) =>
    `The meter on ${f.port} already measures the ${f.role.replaceAll('_', ' ')}. Disconnect it first.`,

  // files
  'file-missing': (f: { file: string }) => `There is no file ${f.file}. Check its name and folder.`,
  'file-unreadable': (f: { file: string; reason: string }) => `${f.file} could not be read: ${f.reason}.`,
  'file-unwritable': (f: { file: string; reason: string }) => `${f.file} could not be written: ${f.reason}.`,
  'file-exists': (f: { file: string }) =>
    `${f.file} exists already and was left as it is. Choose another name, or use --force to replace it.`,
  'file-beside': (f: { file: string; beside: string }) =>
    `${f.beside} would be taken for a part of ${f.file}, but does not belong to it. Move it away or choose another name; nothing was written.`,
  // `map`: where the commands' option for another logger's file can help.
  'file-kind-unknown': (f: { file: string; map?: true }) =>
    `${f.file} is neither a CSV file nor a data package (a .zip, or a folder with datapackage.json).${f.map ? ' For a text file of another logger, use --map auto.' : ''}`,
  'file-foreign': (f: { file: string }) =>
    `${f.file} is the file of another logger and was not imported. Choose it under Earlier, which shows how it would be read.`,
  'file-too-large': (f: { file: string; found: string; most: string }) =>
    `${f.file} is too large: it holds ${f.found}, and the limit is ${f.most}. Split it into smaller files.`,
  'csv-empty': (f: { file: string }) => `${f.file} contains no readings.`,
  'csv-no-elapsed': (f: { file: string; found: string }) =>
    `${f.file}: the first column must be elapsed_s, but it is "${f.found}". For a file of another logger, use --map auto.`,
  'csv-no-channel': (f: { file: string; found: string }) =>
    `${f.file} has no column that Pilot Bench recognizes, such as pilot_pressure_inH2O or flame_signal_V. Its columns are ${f.found}.`,
  'csv-column-twice': (f: { file: string; column: string }) =>
    `${f.file} has two columns for ${f.column}. Keep one of them.`,
  'logger-unreadable': (f: { file: string; problem: string }) =>
    `${f.file} cannot be read as a logger's file: ${f.problem}. Save it anew as text.`,
  'map-invalid': (f: { file: string; problems: string }) => `${f.file} cannot be used as a map: ${f.problems}.`,
  'map-ambiguous': (f: { file: string; what: string; candidates: string; key: string }) =>
    `${f.file}: ${f.what} may be ${f.candidates}. Say which in the file of --map, with "${f.key}".`,
  'map-unclear': (f: { file: string; problem: string; key: string }) =>
    `${f.file}: ${f.problem}. Say how it is in the file of --map, with "${f.key}".`,
  'trials-invalid': (f: { file: string; line: number; problem: string }) => `${f.file}, line ${f.line}: ${f.problem}.`,
  'setup-invalid': (f: { file: string; problems: string }) => `${f.file} cannot be used: ${f.problems}.`,
  'package-invalid': (f: { file: string; problems: string }) =>
    `${f.file} is not a usable data package: ${f.problems}.`,

  // analysis
  'no-pressure': () =>
    'The capture has no valid reading of the pilot pressure, so no curve can be fitted. Check the manometer and its profile.',
  'no-signal': () =>
    'The capture has no valid reading of the flame signal, so no curve can be fitted. Check the signal meter and its profile.',
  'too-few-pairs': (f: { pairs: number; least: number }) =>
    `Only ${f.pairs} pairs of pressure and signal readings were found, and at least ${f.least} are needed. Record a longer sweep with both meters.`,
  'one-pressure': (f: { pressure: string }) =>
    `The pressure stayed near ${f.pressure}. A window is found only in a sweep through the range of the regulator.`,
  'signal-without-gas': () =>
    `The flame signal stood there with the pilot gas shut as well, so it shows no flame, and no curve can be fitted. ${otherSources}`,
  'clocks-apart': (f: { seconds: number }) =>
    `The flame signal seems to ${f.seconds < 0 ? 'come' : 'follow'} about ${Math.round(Math.abs(f.seconds))} s ${f.seconds < 0 ? 'before' : 'after'} the pressure, which no detector and no meter explains: the clocks of the two meters are apart. Correct the times of one of them, or record both with one clock.`,
  'units-differ': (f: { before: string; after: string }) =>
    `The two sweeps measure the flame signal in ${f.before} and in ${f.after}. One cannot be converted to the other, so they cannot be compared.`,
  'job-not-started': (f: { what: string; reason: string }) =>
    `${f.what} could not be started: ${f.reason}. Recording continues. Close other windows and programs, then try again.`,
  // Whatever the system ended by a signal it ended from outside, most often where memory ran out.
  'job-process-ended': (f: { what: string; reason: string }) =>
    `${f.what} was begun twice, and both times it ${f.reason.startsWith('signal') ? 'was stopped from outside before it had an answer, perhaps because memory ran out. Close other programs' : `ended without an answer (${f.reason})`}. Recording continues, and nothing recorded is lost.`,
  cancelled: () => 'The job was canceled before it finished.',

  // the desktop program
  'electron-old': (f: { found: string; oldest: number }) =>
    `This is Electron ${f.found}, and Pilot Bench needs ${f.oldest} or later: older ones have known faults. Install Pilot Bench again.`,
  'start-switch-refused': (f: { name: string }) =>
    `Pilot Bench does not start with --${f.name}: another program could act in its place. Start it without.`,
  'page-not-loaded': (f: { reason: string }) =>
    `The page of Pilot Bench could not be loaded (${f.reason}). Everything recorded is safe, and recording continues.`,

  // store and captures
  'store-missing': (f: { folder: string }) =>
    `There is no Pilot Bench store in the folder ${f.folder}, so there are no captures. Check the folder given with --data.`,
  'store-damaged': (f: { file: string; reason: string }) =>
    `The store ${f.file} is damaged (${f.reason}). It was left untouched. Start with another --data folder, or restore a backup.`,
  'store-newer': (f: { file: string; found: number; known: number }) =>
    `The store ${f.file} was written by a newer version of Pilot Bench (store version ${f.found}; this one reads up to ${f.known}). Update Pilot Bench.`,
  'store-unavailable': (f: { file: string; reason: string }) => `The store ${f.file} could not be opened: ${f.reason}.`,
  'store-full': (f: { waiting: number }) =>
    f.waiting === 0
      ? 'The disk is full, so this was not saved. Free up some space and try again.'
      : `The disk is full. ${f.waiting} lines are only in memory, not saved yet. Free up some space now; do not close Pilot Bench.`,
  'store-gone': (f: { file: string }) =>
    `The store ${f.file} was deleted or moved while in use, so nothing more can be saved in it. Close Pilot Bench now: it saves the current recording to a separate file.`,
  'store-shared': (f: { pid: number; capture: string }) =>
    `Another copy of Pilot Bench (process ${f.pid}) is recording capture ${f.capture} into this store. Both can continue; their readings are kept apart.`,
  'capture-taken': (f: { capture: string; now: string }) =>
    `Another copy of Pilot Bench took over capture ${f.capture} while this one was not responding. New readings here go into capture ${f.now}, so that nothing is mixed up or lost.`,
  'lines-rescued': (f: { lines: number; capture: string; file: string }) =>
    `${f.lines} lines of capture ${f.capture} could not be stored. The whole capture, with those lines, was saved to ${f.file}. Once there is disk space, import that file.`,
  'lines-unsaved': (f: { lines: number; capture: string; reason: string }) =>
    `${f.lines} lines of capture ${f.capture} could be saved neither in the store nor in a file: ${f.reason}.`,
  'capture-missing': (f: { capture: string }) => `There is no capture ${f.capture} in the store.`,
  'capture-differs': (f: { file: string; capture: string; parts: string }) =>
    `${f.file}: capture ${f.capture} is already in the store, but differs from this file in its ${f.parts}. The one in the store was left unchanged.`,
  'file-or-capture-missing': (f: { what: string }) =>
    `There is no file ${f.what}, and no capture with that id in the store.`,
  'capture-ambiguous': (f: { capture: string }) =>
    `More than one capture id begins with ${f.capture}. Enter more of the id.`,
  'capture-imported': () =>
    'This capture came from a file, or was recorded by an older version, so its recording is not resumed. Complete it as it is and start a new one.',
  'capture-closed': () => 'This capture is complete and can no longer be changed. Add a note to it instead.',
  'capture-elsewhere': () =>
    'This capture is being recorded by another copy of Pilot Bench on this computer. Finish it there.',
  'capture-goes-on': () => 'This capture is being recorded again, perhaps from another window. Open it to finish it.',
  'capture-recording': () => 'A capture is already being recorded. Finish it first.',
  'not-recording': () => 'Nothing is being recorded. Start recording first.',
  'burner-missing': () => 'That burner is not in the store. Choose another, or enter it as a new one.',
  'no-meters': () => 'No meter is connected. Connect the manometer and the flame signal meter first.',
  'purge-wait': (f: { seconds: number }) =>
    `Purge first: ${f.seconds} s of the purge wait remain before the next trial.`,
  'spark-delay-too-long': (f: { seconds: number }) =>
    `The spark can be delayed by less than ${f.seconds} s here: it must come before the trial for ignition ends.`,
  'no-live-pressure': () => 'There is no live pilot pressure reading. Check the manometer first.',
  'as-found-late': () =>
    'The regulator may have been turned since recording began, so this is not as found. Record it only if you know that it was not.',
  // Alarms: the first sentence is the heading on the screen and the name of the mark.
  'flame-lost': () => 'Flame lost, gas on. Shut the gas now, then purge in full.',
  'flame-returned': (f: { flame: string; dark: string; seconds: number; isLeast?: true; longest?: number }) => {
    const longest = f.longest === undefined ? '' : `Perhaps ${f.longest} s: no meter saw when that began. `;
    return `Flame ${f.flame}; ${f.dark} for ${f.isLeast ? 'at least ' : ''}${f.seconds} s. ${longest}Shut the gas now, then purge in full.`;
  },
  'flame-unseen': () => 'Gas on, no meter shows a flame. Unless you see it burn: shut the gas now, then purge in full.',
  'gas-may-flow': () =>
    'No flame, gas may be flowing. The manometer does not show it. Shut the gas now, then purge in full.',
  // Said beside an alarm that goes on.
  'alarm-lasts': () =>
    'If the valve is shut and this stays, it may leak: close the manual gas cock. Only if the pressure then still stands: enter it as the fan-only pressure, under Burner.',
  'alarm-lasts-leak': () =>
    'If the valve is shut and this stays, it may leak: close the manual gas cock. Then compare what the manometer reads with the fan-only pressure that was entered.',
  'gas-unlit': () => 'Gas on, no flame. Shut the gas now, then purge in full.',
  'gas-was-unlit': () =>
    'Gas was on, no flame. Recording was cut off then, and nobody has seen gas shut. Shut the gas now, then purge in full.',
  'gas-not-shut': () =>
    'Gas does not shut off. The pilot valve is shut, but the pressure does not fall: it leaks or sticks open. Shut the gas by hand, then purge in full.',
  'gas-shut': () => 'The pilot gas is shut. There is nothing to set or record until it flows and burns.',
  'no-flame': () => 'No flame is proved. There is nothing to set or record until it burns steadily.',
  'flame-unsteady': () =>
    'The flame is not steady here. Wait until it burns steadily, or move away from this pressure.',
  'burner-unknown': () =>
    'It cannot be told whether gas flows and a flame burns. Check both meters, and enter the fan-only pressure under Burner.',
  'meter-no-reading': (f: { meter: string }) => `The ${f.meter} gives no reading now. Check its cable and its display.`,
  'meter-frozen': (f: { meter: string }) =>
    `The ${f.meter} repeats one reading. Look whether it is on hold, and press its hold key.`,
  'manometer-off': () =>
    'The manometer shows no gas, but there still is a flame signal: gas may be flowing. Look at the hose, the tap and the flame. Do not turn.',
  'sweep-unknown': () => 'This capture has no such sweep.',
  'sweep-void': () => 'This sweep is already discarded.',
  'sweep-missing': () => 'No sweep is running. Start one first.',
  'trial-missing': () => 'That light-off trial is no longer running.',
  'trial-judged': (f: { verdict: string }) =>
    `Your answer was not taken: this trial is in the record already, ${f.verdict}. Correct its entry if that is wrong.`,
  'trial-unknown': () => 'This capture has no such light-off trial.',
  'trial-replaced': () =>
    'This light-off trial was corrected or discarded in the meantime. Look at its newest entry, then decide again.',
  'trial-void': () => 'This light-off trial is already discarded.',
  'reason-missing': () => 'Say why: a light-off trial is added to a complete capture, or discarded.',
  'trial-has-gas': () =>
    'Gas came on in this trial, so it is recorded. Discard it in the list of trials, with a reason.',
  'verdict-contradicts-meters': (f: { entered: string; meters: string }) =>
    `The meters say otherwise: ${f.meters}. Look at the flame, then confirm "${f.entered}" or correct it.`,
  'trial-running': () => 'A light-off trial is running. End it first.',

  // practice
  'practice-off': () => 'The practice bench is turned off here.',
  'scenario-missing': (f: { scenario: string }) => `The practice bench has no scenario called "${f.scenario}".`,

  // calls
  'call-unknown': (f: { name: string }) => `There is no call named ${f.name}.`,
  'input-invalid': (f: { problems: string }) => `This input cannot be used: ${f.problems}.`,
  'too-many-calls': () => 'Pilot Bench has too many requests at once. Wait until some of them are done.',
  'message-too-large': (f: { megabytes: number; most: number }) =>
    `These files are ${f.megabytes} MB; at most ${f.most} MB can be sent at once. Import them one at a time.`,
  'address-in-use': (f: { port: number }) =>
    `TCP port ${f.port} of this computer is in use by another program. Choose another with --port, or leave --port out.`,
  'address-none': () => 'Only the workbench in a browser has an address. Start it with "pilot-bench serve".',
  'page-missing': (f: { folder: string }) =>
    `The pages of the workbench are not in ${f.folder}. Build them with "npm run build".`,
  'host-gone': () =>
    'The connection to Pilot Bench was lost. What was recorded is safe; this window keeps trying to reconnect.',
  internal: (f: { what: string }) =>
    `Something went wrong inside Pilot Bench (${f.what}). Everything recorded so far is safe.`,
} as const;

export type FaultCode = keyof typeof sentences;
export const faultCodes = Object.keys(sentences) as FaultCode[];
type FactsOf<C extends FaultCode> = Parameters<(typeof sentences)[C]> extends [infer F] ? F : undefined;

/** A fault as it is sent: `code` for programs, `message` for people, `facts` the values in the sentence. */
export interface Fault {
  code: FaultCode;
  message: string;
  facts?: Record<string, string | number>;
}

/** Creates the fault `code`; `facts` are the values its sentence needs. */
export function fault<C extends FaultCode>(
  code: C,
  ...rest: FactsOf<C> extends undefined ? [] : [facts: FactsOf<C>]
): Fault {
  const facts = rest[0] as Record<string, string | number> | undefined;
  const sentence = sentences[code] as (facts: unknown) => string;
  return { code, message: sentence(facts), ...(facts && { facts }) };
}

/** Whether a calculation gave no answer of its own, so that the same may give one when it is asked again. */
export const isUnanswered = ({ code }: Pick<Fault, 'code'>): boolean =>
  code === 'job-process-ended' || code === 'job-not-started' || code === 'cancelled' || code === 'internal';
