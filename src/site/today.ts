/** The day on which a command runs or a site is built. */

/** Today as `YYYY-MM-DD` where the command runs. `RERIG_TODAY` gives another day, for trying what will be due. */
export function today(): string {
  const given = process.env["RERIG_TODAY"];
  if (given && /^\d{4}-\d{2}-\d{2}$/.test(given)) return given;
  const now = new Date();
  return `${now.getFullYear()}-${String(now.getMonth() + 1).padStart(2, "0")}-${String(now.getDate()).padStart(2, "0")}`;
}
