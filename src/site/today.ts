/** The day on which a command runs or a site is built. */

/** Today as `YYYY-MM-DD` where the command runs. `RERIG_TODAY` gives another day, for trying what will be due. */
export function today(): string {
  const given = process.env["RERIG_TODAY"];
  if (given && /^\d{4}-\d{2}-\d{2}$/.test(given)) return given;
  const now = new Date();
  const two = (value: number) => String(value).padStart(2, "0");
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}
