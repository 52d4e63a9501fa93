import * as captures from './001-captures.ts';
import * as arriving from './002-arriving.ts';
import * as meterReads from './003-meter-reads.ts';
import * as unread from './004-unread.ts';
import * as practice from './005-practice.ts';
import * as trialRecord from './006-trial-record.ts';
import * as recordedHere from './007-recorded-here.ts';
import * as captureList from './008-capture-list.ts';
import * as mappings from './009-mappings.ts';

/** Every migration in order; the store's version is the number of those applied. One is never changed after a release. */
export const migrations: readonly { name: string; sql: string }[] = [
  { name: '001-captures', sql: captures.sql },
  { name: '002-arriving', sql: arriving.sql },
  { name: '003-meter-reads', sql: meterReads.sql },
  { name: '004-unread', sql: unread.sql },
  { name: '005-practice', sql: practice.sql },
  { name: '006-trial-record', sql: trialRecord.sql },
  { name: '007-recorded-here', sql: recordedHere.sql },
  { name: '008-capture-list', sql: captureList.sql },
  { name: '009-mappings', sql: mappings.sql },
];
