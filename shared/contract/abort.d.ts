// What the browser, Node and Electron all have and the plain language library does not. Seen only when `shared` is
// checked alone: every runtime that imports it checks against its own, full declarations.

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
