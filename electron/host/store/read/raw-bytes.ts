import { isUtf8 } from 'node:buffer';
import type { RawLine } from '../../../../shared/model/capture.ts';

/** Bytes as text that can be turned back into the same bytes: UTF-8 where they are valid UTF-8, else latin-1. */
export function textOf(bytes: Uint8Array): Pick<RawLine, 'raw' | 'encoding'> {
  const buffer = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const encoding = isUtf8(buffer) ? 'utf8' : 'latin1';
  return { raw: buffer.toString(encoding), encoding };
}

/** The bytes of a line, as they came. */
export const bytesOf = (line: Pick<RawLine, 'raw' | 'encoding'>): Buffer => Buffer.from(line.raw, line.encoding);
