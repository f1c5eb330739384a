/**
 * Refusals of the standards layer: a value a formula or a table cannot answer is a fault of the calling program, so it
 * is thrown at once as a RangeError whose words name the module, the value met and what was allowed.
 * Source: none, our own convention (design.md section 9, 'three kinds of trouble stay apart').
 */

/** Throws the RangeError every refusal of this layer ends in: module, quantity, value met, values allowed. */
export function refuse(where: string, quantity: string, met: unknown, allowed: string): never {
  throw new RangeError(`${where}: ${quantity} is ${String(met)}, allowed: ${allowed}`);
}

/** Refuses a number that is not finite and greater than `floor`. */
export function requireAbove(where: string, quantity: string, value: number, floor: number): void {
  if (!(Number.isFinite(value) && value > floor)) refuse(where, quantity, value, `a finite number above ${floor}`);
}

/** Refuses a number that is not finite and at least `least`. */
export function requireAtLeast(where: string, quantity: string, value: number, least: number): void {
  if (!(Number.isFinite(value) && value >= least))
    refuse(where, quantity, value, `a finite number of at least ${least}`);
}

/** Refuses a coefficient of friction outside (0, 1]. */
export function requireFriction(where: string, quantity: string, value: number): void {
  if (!(value > 0 && value <= 1)) refuse(where, quantity, value, 'above 0 and up to 1');
}
