// Our own few lines of Modbus, though libraries for it are kept well. The two for Node that were looked at do not fit
// what is promised here: one opens the serial port itself; the other takes an open one, but waits for ever behind a
// stray byte; and neither hands on what arrives damaged, late or from another unit, which has to be kept.
import { readAnswer, readingIn, exceptionInWords } from '../../../../shared/instruments/modbus/response.ts';
import type { Answer } from '../../../../shared/instruments/modbus/response.ts';
import { flagged } from '../../../../shared/instruments/decoded.ts';
import { longestFrame, takeFrames } from '../../../../shared/instruments/modbus/frames.ts';
import { hexOf } from '../../../../shared/instruments/modbus/hex.ts';
import type { RegisterRequest } from '../../../../shared/instruments/modbus/request.ts';
import { requestFrame, requestsOf } from '../../../../shared/instruments/modbus/request.ts';
import type { Fault } from '../../../../shared/model/faults.ts';
import { fault } from '../../../../shared/model/faults.ts';
import type { ReceivedLine, Protocol, ProtocolContext } from './protocol.ts';

interface Surroundings extends ProtocolContext {
  /** How long the meter has to begin its answer. */
  answerMs: number;
}

// Frames are set apart by 3.5 characters of silence (MODBUS over Serial Line V1.02, 2.5.1.1). An operating system hands
// bytes over later and in lumps, a USB adapter after up to 16 ms, so only a longer silence says that no more will come.
const lumpsMs = 50;
// No answer is shorter; less than that is noise, and the answer may still come behind it.
const shortestAnswer = 5;
const bitsPerCharacter = 11;

/**
 * Talk with a meter over Modbus RTU: asks for the registers of each channel, one question at a time, every
 * `poll.everyMs`, and writes nothing else. Each frame that arrives is given out, and so is what is no frame.
 *
 * An answer does not say what it answers. So after a question that got none there is a pause as long as the wait was, in
 * which what arrives is kept but not used.
 */
export function createModbusProtocol({ port, profile, clock, answerMs, onSaid }: Surroundings): Protocol {
  const requests = requestsOf(profile);
  const characterMs = (1000 * bitsPerCharacter) / profile.serial.baudRate;
  const gapMs = 3.5 * characterMs + lumpsMs;
  // Time for question and answer on the wire, at slow rates the larger part.
  const patienceMs = answerMs + (8 + 9) * characterMs;

  let write: ((data: Uint8Array) => void) | undefined;
  let rounds: NodeJS.Timeout | undefined;
  let silence: NodeJS.Timeout | undefined;
  let waiting: NodeJS.Timeout | undefined;
  let arrived: Uint8Array = new Uint8Array();
  let lastByteMs = clock.monotonicMs();
  let heardMs = lastByteMs;
  /** The questions of this round that are still to be put. */
  let toAsk: RegisterRequest[] = [];
  let asked: RegisterRequest | undefined;
  let lastAsked: RegisterRequest | undefined;
  /** Between two questions, or in the pause after one that got no answer. */
  let pausing = false;

  const pauseFor = (ms: number, then: () => void) => {
    pausing = true;
    waiting = setTimeout(() => {
      pausing = false;
      then();
    }, ms);
  };

  const ask = () => {
    const next = toAsk.shift();
    if (!next) return;
    giveUp(); // what came before the question is no answer to it
    asked = next;
    lastAsked = next;
    waiting = setTimeout(timeUp, patienceMs);
    write?.(requestFrame(next));
  };

  const timeUp = () => {
    if (arrived.length > 0) {
      waiting = setTimeout(timeUp, gapMs); // it has begun
      return;
    }
    asked = undefined;
    pauseFor(patienceMs, ask);
  };

  const answered = (sound: boolean) => {
    clearTimeout(waiting);
    asked = undefined;
    // Behind a damaged answer the rest of it may come.
    pauseFor(sound ? gapMs - lumpsMs : 4 * gapMs, ask);
  };

  const say = (bytes: Uint8Array, readings: ReceivedLine['readings'], trouble?: Fault) =>
    onSaid({ bytes: Buffer.from(bytes), text: hexOf(bytes), atMs: lastByteMs, readings, ...(trouble && { trouble }) });

  /** Some adapters hear what they send themselves. */
  const isEcho = (bytes: Uint8Array): boolean => asked !== undefined && hexOf(bytes) === hexOf(requestFrame(asked));

  const take = (bytes: Uint8Array) => {
    heardMs = lastByteMs;
    const request = asked;
    if (!request) {
      const channels = lastAsked ? [lastAsked.channel] : profile.channels;
      const readings = channels.map((channel) => flagged(channel, 'unreadable'));
      say(bytes, readings, fault('modbus-late', { port }));
      return;
    }
    const answer = readAnswer(bytes, request);
    if (answer.kind !== 'foreign' && bytes.length >= shortestAnswer) answered(answer.kind !== 'damaged');
    say(bytes, [readingIn(answer, request, profile.overload)], troubleIn(answer, bytes, request, port));
  };

  /** Nothing more will come: what is left of no use is given out as it is. */
  const giveUp = () => {
    clearTimeout(silence);
    if (arrived.length === 0) return;
    const bytes = arrived;
    arrived = new Uint8Array();
    if (isEcho(bytes)) say(bytes, []);
    else take(bytes);
  };

  return {
    push(bytes, atMs) {
      lastByteMs = atMs;
      clearTimeout(silence);
      const { pieces, rest } = takeFrames(Uint8Array.from([...arrived, ...bytes]));
      arrived = rest;
      // What lies before a sound frame (noise, an echo) is kept; the frame is what speaks.
      for (const piece of pieces)
        if (piece.sound) take(piece.bytes);
        else say(piece.bytes, []);
      if (arrived.length > longestFrame) giveUp();
      else if (arrived.length > 0) silence = setTimeout(giveUp, gapMs);
    },
    heardMs: () => heardMs,
    begin(send) {
      write = send;
      rounds = setInterval(() => {
        if (asked || pausing) return;
        toAsk = [...requests];
        ask();
      }, profile.poll?.everyMs);
    },
    cut: giveUp,
    async end() {
      write = undefined;
      clearInterval(rounds);
      giveUp();
      clearTimeout(waiting);
    },
  };
}

function troubleIn(answer: Answer, bytes: Uint8Array, request: RegisterRequest, port: string): Fault | undefined {
  switch (answer.kind) {
    case 'registers':
      return undefined;
    case 'exception': {
      const register = `register ${request.address} (function ${request.function}) of unit ${request.unitId}`;
      const { code } = answer;
      return fault('modbus-refused', { port, register, reason: exceptionInWords(code), code });
    }
    case 'damaged':
      return fault('modbus-damaged', { port, sample: hexOf(bytes.subarray(0, 20)) });
    case 'foreign':
      return fault('modbus-foreign', { port, unit: answer.unitId, asked: request.unitId });
  }
}
