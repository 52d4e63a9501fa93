// A small Modbus master of our own, though maintained libraries exist. The two for Node that were examined do not fit the promises
// here: one opens the serial port itself; the other takes an open one, but waits for ever behind a stray byte; and neither passes
// on what arrives damaged, late or from another unit, which has to be kept.
import { flagged } from '../../../../shared/instruments/decoded.ts';
import { maxFrameBytes, splitFrames } from '../../../../shared/instruments/modbus/frames.ts';
import { toHex } from '../../../../shared/instruments/modbus/hex.ts';
import type { RegisterRequest } from '../../../../shared/instruments/modbus/request.ts';
import { requestFrame, requestsOf } from '../../../../shared/instruments/modbus/request.ts';
import type { RegisterResponse } from '../../../../shared/instruments/modbus/response.ts';
import { exceptionText, readingOfResponse, readResponse } from '../../../../shared/instruments/modbus/response.ts';
import type { Fault } from '../../../../shared/model/faults.ts';
import { fault } from '../../../../shared/model/faults.ts';
import type { Protocol, ProtocolContext, ReceivedLine } from './protocol.ts';

interface ModbusContext extends ProtocolContext {
  /** The meter must begin its response within this time. */
  responseTimeoutMs: number;
}

// Frames are set apart by 3.5 characters of silence (MODBUS over Serial Line V1.02, 2.5.1.1). An operating system delivers
// bytes later and in lumps, a USB adapter after up to 16 ms, so only a longer silence shows that no more will come.
const deliveryDelayMs = 50;
// No response is shorter; less than that is noise, and the response may still come behind it.
const minResponseBytes = 5;
const bitsPerCharacter = 11;

/**
 * Communication with a meter over Modbus RTU: requests the registers of each channel, one request at a time, every
 * `poll.everyMs`, and writes nothing else. Each frame that arrives is emitted, and so is what is no frame.
 *
 * A response does not say which request it belongs to. So a request that got none is followed by a pause of the same length, in
 * which whatever arrives is kept but not used.
 */
export function createModbusProtocol({ port, profile, clock, responseTimeoutMs, onLine }: ModbusContext): Protocol {
  const requests = requestsOf(profile);
  const characterMs = (1000 * bitsPerCharacter) / profile.serial.baudRate;
  const gapMs = 3.5 * characterMs + deliveryDelayMs;
  // Includes the time of request and response on the wire, at slow rates the larger part.
  const timeoutMs = responseTimeoutMs + (8 + 9) * characterMs;

  let write: ((data: Uint8Array) => void) | undefined;
  let pollTimer: NodeJS.Timeout | undefined;
  let silenceTimer: NodeJS.Timeout | undefined;
  /** For the response or, between two requests, for the pause. */
  let timer: NodeJS.Timeout | undefined;
  let buffer: Uint8Array = new Uint8Array();
  let lastByteMs = clock.monotonicMs();
  let lastReceivedMs = lastByteMs;
  /** The requests of this round that have not been sent yet. */
  let queue: RegisterRequest[] = [];
  /** The request that waits for its response. */
  let active: RegisterRequest | undefined;
  let lastRequest: RegisterRequest | undefined;
  let isPausing = false;

  const pauseFor = (ms: number, then: () => void) => {
    isPausing = true;
    timer = setTimeout(() => {
      isPausing = false;
      then();
    }, ms);
  };

  const sendNext = () => {
    const next = queue.shift();
    if (!next) return;
    flush(); // what came before the request is no response to it
    active = next;
    lastRequest = next;
    timer = setTimeout(timedOut, timeoutMs);
    write?.(requestFrame(next));
  };

  const timedOut = () => {
    if (buffer.length > 0) {
      timer = setTimeout(timedOut, gapMs); // the response has begun
      return;
    }
    active = undefined;
    pauseFor(timeoutMs, sendNext);
  };

  const endRequest = (isDamaged: boolean) => {
    clearTimeout(timer);
    active = undefined;
    // Behind a damaged response the rest of it may come.
    pauseFor(isDamaged ? 4 * gapMs : gapMs - deliveryDelayMs, sendNext);
  };

  const emit = (bytes: Uint8Array, readings: ReceivedLine['readings'], cause?: Fault) =>
    onLine({
      bytes: Buffer.from(bytes),
      text: toHex(bytes),
      atMs: lastByteMs,
      readings,
      ...(cause && { fault: cause }),
    });

  /** Some adapters receive what they send themselves. */
  const isEcho = (bytes: Uint8Array): boolean => active !== undefined && toHex(bytes) === toHex(requestFrame(active));

  const handleFrame = (bytes: Uint8Array) => {
    lastReceivedMs = lastByteMs;
    const request = active;
    if (!request) {
      const channels = lastRequest ? [lastRequest.channel] : profile.channels;
      const readings = channels.map((channel) => flagged(channel, 'unreadable'));
      emit(bytes, readings, fault('modbus-late', { port }));
      return;
    }
    const response = readResponse(bytes, request);
    if (response.kind !== 'foreign' && bytes.length >= minResponseBytes) endRequest(response.kind === 'damaged');
    emit(bytes, [readingOfResponse(response, request, profile.overload)], faultOf(response, bytes, request, port));
  };

  /** Nothing more will come: what is left and cannot be used is emitted as it is. */
  const flush = () => {
    clearTimeout(silenceTimer);
    if (buffer.length === 0) return;
    const bytes = buffer;
    buffer = new Uint8Array();
    if (isEcho(bytes)) emit(bytes, []);
    else handleFrame(bytes);
  };

  return {
    push(bytes, atMs) {
      lastByteMs = atMs;
      clearTimeout(silenceTimer);
      const { pieces, rest } = splitFrames(Uint8Array.from([...buffer, ...bytes]));
      buffer = rest;
      // What lies before a frame (noise, an echo) is kept; only the frame is a response.
      for (const piece of pieces)
        if (piece.isFrame) handleFrame(piece.bytes);
        else emit(piece.bytes, []);
      if (buffer.length > maxFrameBytes) flush();
      else if (buffer.length > 0) silenceTimer = setTimeout(flush, gapMs);
    },
    lastReceivedMs: () => lastReceivedMs,
    open(send) {
      write = send;
      pollTimer = setInterval(() => {
        if (active || isPausing) return;
        queue = [...requests];
        sendNext();
      }, profile.poll?.everyMs);
    },
    flush,
    async close() {
      write = undefined;
      clearInterval(pollTimer);
      flush();
      clearTimeout(timer);
    },
  };
}

function faultOf(
  response: RegisterResponse,
  bytes: Uint8Array,
  request: RegisterRequest,
  port: string,
): Fault | undefined {
  switch (response.kind) {
    case 'registers':
      return undefined;
    case 'exception': {
      const register = `register ${request.address} (function ${request.function}) of unit ${request.unitId}`;
      const { code } = response;
      return fault('modbus-refused', { port, register, reason: exceptionText(code), code });
    }
    case 'damaged':
      return fault('modbus-damaged', { port, sample: toHex(bytes.subarray(0, 20)) });
    case 'foreign':
      return fault('modbus-foreign', { port, unit: response.unitId, asked: request.unitId });
  }
}
