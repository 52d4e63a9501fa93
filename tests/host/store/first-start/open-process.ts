// Opens the store in a folder once a line comes on standard input, and prints the code of the fault, or "opened".
// Arguments: the folder and, to be killed at a certain step, the number of SQLite's calls (pragma, exec) after which it is.
import Database from 'better-sqlite3';
import { openStore } from '../../../../electron/host/store/open.ts';

const [folder = '', lastCall] = process.argv.slice(2);

if (lastCall !== undefined) {
  let calls = 0;
  const counted = <A extends unknown[], R>(call: (this: Database.Database, ...args: A) => R) =>
    // A method: its database is `this`.
    function (this: Database.Database, ...args: A): R {
      calls += 1;
      if (calls > Number(lastCall)) process.kill(process.pid, 'SIGKILL');
      return call.apply(this, args);
    };
  Database.prototype.pragma = counted(Database.prototype.pragma);
  Database.prototype.exec = counted(Database.prototype.exec);
}

process.stdin.once('data', () => {
  const store = openStore(folder);
  process.stdout.write(store.ok ? 'opened\n' : `${store.fault.code}: ${store.fault.message}\n`);
  if (store.ok) store.value.close();
  process.exit(0);
});
process.stdout.write('ready\n');
