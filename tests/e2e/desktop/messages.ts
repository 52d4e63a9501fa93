/** What the stand-in for Electron (a process that runs the built main file) and the test (which has the real browser) say to each other. */
export type ToTest =
  | { kind: 'load'; url: string; preload: string }
  | { kind: 'box'; box: number; message: string; buttons: string[] }
  | { kind: 'response'; request: number; status: number; headers: Record<string, string>; body: Uint8Array }
  | { kind: 'port message'; port: number; data: unknown }
  | { kind: 'port closed'; port: number }
  | { kind: 'crash the page' }
  | { kind: 'destroyed' };

export type ToElectron =
  | { kind: 'request'; request: number; url: string }
  | { kind: 'loaded' }
  | { kind: 'load failed'; code: number; reason: string; url: string }
  | { kind: 'page crashed' }
  | { kind: 'ipc'; channel: string; message: unknown; ports: number[]; url: string }
  | { kind: 'port message'; port: number; data: unknown }
  | { kind: 'port closed'; port: number }
  | { kind: 'answer'; box: number; response: number }
  | { kind: 'click on close' };
