import Database from 'better-sqlite3';

/** Every store that was opened since this module was loaded; SQLite itself can refuse them any further page. */
const opened = new Set<Database.Database>();
const { pragma } = Database.prototype;
Database.prototype.pragma = function (this: Database.Database, ...given: Parameters<typeof pragma>): unknown {
  opened.add(this);
  return pragma.apply(this, given);
};

const allow = (pages: number) => {
  for (const db of opened) if (db.open) pragma.call(db, `max_page_count = ${pages}`);
};

/** From now on the stores of this process are refused with SQLITE_FULL as soon as they need another page. */
export const fillDisk = (): void => allow(1);

/** There is space again. */
export const freeDisk = (): void => allow(0xffff_fffe);
