/** What follows from how many people a crew has. */

/**
 * Whether a crew works from two sides, left and right: it has two roles. With any other number there is a rail a role,
 * and each line names who acts. `crew`: the roles of a service.
 */
export function isPair(crew: readonly unknown[]): boolean {
  return crew.length === 2;
}
