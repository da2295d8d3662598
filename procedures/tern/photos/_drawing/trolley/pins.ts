/** Capsule pins as they lie in the pin tray: pushed in from the foot side, knobs towards the foot. */
import { subtract, type Point } from "../engine/points.ts";
import { join, move, turn, type Shape } from "../engine/shapes.ts";
import { capsulePin } from "./capsule.ts";
import { pinTrayHoles } from "./deck-fastenings.ts";

/** A pin in one of the tray's holes (0 to 3), drawn out by so many millimetres. */
export function pinInTray(hole: number, out = 0): Shape {
  const at = pinTrayHoles[hole]!,
    start: Point = [0, 0, 0];
  return move(subtract([at[0] - 24 + out, at[1], at[2]], start), turn("y", 90, start, capsulePin(start)));
}
/** All four. */
export const pinsInTray = (): Shape => join(...pinTrayHoles.map((_, i) => pinInTray(i)));
