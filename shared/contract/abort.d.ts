// Declared for `shared` alone, whose language library lacks what browser, Node and Electron all have. Every runtime that imports
// `shared` checks against its own, full declarations.

interface AbortSignal {
  readonly aborted: boolean;
  addEventListener(type: 'abort', listener: () => void, options?: { once?: boolean }): void;
  removeEventListener(type: 'abort', listener: () => void): void;
}

interface AbortController {
  readonly signal: AbortSignal;
  abort(): void;
}

declare const AbortController: new () => AbortController;
