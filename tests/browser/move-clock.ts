/** Runs in a page: the present is a day at noon. */
export function moveClock(day: string): void {
  const Real = Date,
    ahead = new Real(`${day}T12:00`).getTime() - Real.now();
  globalThis.Date = class extends Real {
    constructor(...parts: []) {
      super(...((parts.length ? parts : [Real.now() + ahead]) as []));
    }
    static override now() {
      return Real.now() + ahead;
    }
  } as DateConstructor;
}
