// Preloaded into the process that runs the built main file: the module `electron` is the stand-in there.
import { registerHooks } from 'node:module';

const standIn = new URL('stand-in.ts', import.meta.url).href;
registerHooks({
  resolve: (specifier, context, next) =>
    specifier === 'electron' ? { url: standIn, shortCircuit: true } : next(specifier, context),
});
Object.defineProperty(process.versions, 'electron', { value: process.env['PILOT_BENCH_STAND_IN'] });
