/** Whether a process is still there. */

/**
 * Whether a process of this number runs. One of another user answers a signal with a refusal, and is there all the
 * same (kill(2): EPERM; only ESRCH says that there is none).
 */
export function isRunning(pid: number): boolean {
  if (!Number.isInteger(pid) || pid <= 0) return false;
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === "EPERM";
  }
}
