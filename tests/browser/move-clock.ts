/** Runs in a page: the present is a day at noon or at the time behind its `T`, or at the hour that it is. */
export function moveClock(day: string, keepsHour = false): void {
  const Real = Date,
    DAY = 86_400_000,
    ahead = new Real(day.includes("T") ? day : `${day}T12:00`).getTime() - Real.now(),
    by = keepsHour ? Math.round(ahead / DAY) * DAY : ahead;
  globalThis.Date = class extends Real {
    constructor(...parts: []) {
      super(...((parts.length ? parts : [Real.now() + by]) as []));
    }
    static override now() {
      return Real.now() + by;
    }
  } as DateConstructor;
}
