import { createHash, randomBytes, timingSafeEqual } from 'node:crypto';
import type { Hello } from '../../shared/contract/admission.ts';

/** Who may use the workbench of this run: a key lets one browser in once, a token lets that browser in again. */
export interface Access {
  /** A new one-time key; `onUsed` is called when it has been used. Only the newest `keyLimit` count. */
  newKey(onUsed?: () => void): string;
  /** The token for a page that shows an unused key, which is then used, or a token; undefined when it shows neither. */
  admit(shown: Pick<Hello, 'key' | 'token'>): string | undefined;
  /** What shows to an admitted page that it reached this run again, and not a program that took its port. */
  proof: string;
}

/** Addresses that may wait for their browser at a time. */
export const keyLimit = 16;

// The browsers of one technician; the one that was let in first has to be let in again.
const tokenLimit = 64;

/** Access to one run of the host: every key and token is new and random, and ends with it. */
export function createAccess(): Access {
  const keys = createSecrets(keyLimit);
  const tokens = createSecrets(tokenLimit);
  return {
    proof: randomSecret(),
    newKey: keys.make,
    admit({ key, token }) {
      if (key !== undefined && keys.use(key)) return tokens.make();
      return token !== undefined && tokens.has(token) ? token : undefined;
    },
  };
}

/** 256 random bits as text. */
export const randomSecret = (): string => randomBytes(32).toString('base64url');

/** Compares in constant time. */
export const isSame = (given: string, expected: string): boolean => timingSafeEqual(digest(given), digest(expected));

const digest = (text: string): Buffer => createHash('sha256').update(text).digest();

/** Secrets that count, of which only digests are kept; at most `limit`, the oldest goes first. */
function createSecrets(limit: number) {
  const secrets: { digest: Buffer; onUsed: (() => void) | undefined }[] = [];
  /** All of them are compared, each in constant time. */
  const find = (given: string): number => {
    const shown = digest(given);
    return secrets.reduce((found, each, i) => (timingSafeEqual(each.digest, shown) ? i : found), -1);
  };
  return {
    make(onUsed?: () => void): string {
      const secret = randomSecret();
      secrets.push({ digest: digest(secret), onUsed });
      if (secrets.length > limit) secrets.shift();
      return secret;
    },
    has: (given: string): boolean => find(given) >= 0,
    /** Whether it counted; it does not anymore. */
    use(given: string): boolean {
      const found = find(given);
      if (found < 0) return false;
      const [used] = secrets.splice(found, 1);
      used?.onUsed?.();
      return true;
    },
  };
}
