/** Drawings of the whole trolley in each configuration, and with each option. */
import { join, type Shape } from "../engine/shapes.ts";
import {
  coolingMat,
  coolingUnit,
  dosingClamp,
  dosingUnit,
  gasLines,
  gasLinesAt,
  gasShelf,
  inhaledGasCylinder,
  shelfClamps,
} from "../trolley/bay-options.ts";
import { rollSupport } from "../trolley/capsule.ts";
import { secondHose, secondVentilator } from "../trolley/foot-end.ts";
import { fullRack } from "../trolley/head-end.ts";
import { harnessedMattress, seatedCapsule, strappedCradle, trolley, type TrolleyState } from "../trolley/trolley.ts";
import { hooksClosed } from "./cradle.ts";
import { taken, type Shot } from "./common.ts";

const capsuleState: TrolleyState = { flap: 0, pins: false, rails: 180 };
/** The whole trolley with what stands on it. */
const whole = (
  shot: Pick<Shot, "id" | "alt" | "shows" | "hero"> & Partial<Pick<Shot, "from">>,
  state: TrolleyState,
  ...more: Shape[]
): Shot => ({ from: "foot right", ...shot, state: join(trolley(state), ...more), fill: 0.95, floor: 0 });
const capsule = (): Shape => seatedCapsule();
const cradle = (): Shape => join(strappedCradle(), hooksClosed(844));

/** One for each configuration, one for each option. */
export const arrangementScenes = taken("2026-09-21", [
  whole(
    {
      id: "arrangement-newborn-capsule",
      hero: ["newborn-capsule", "capsule-base", "capsule-pin"],
      shows: ["newborn-capsule", "capsule-base", "capsule-pin"],
      alt: "The whole trolley with the newborn capsule on its base",
    },
    capsuleState,
    capsule(),
  ),
  whole(
    {
      id: "arrangement-child-cradle",
      hero: ["child-cradle", "strap-buckle"],
      shows: ["child-cradle", "cradle-strap"],
      alt: "The whole trolley with the child cradle, four straps closed, side rails up",
    },
    { rails: 0 },
    cradle(),
  ),
  whole(
    {
      id: "arrangement-deck-harness",
      hero: ["deck-mattress", "chest-buckle"],
      shows: ["deck-mattress", "deck-harness"],
      alt: "The whole trolley with the deck mattress and its harness, side rails up",
    },
    { rails: 0 },
    harnessedMattress(),
    hooksClosed(838),
  ),
  whole(
    {
      id: "arrangement-option-second-ventilator",
      hero: ["second-ventilator", "second-hose"],
      shows: ["second-ventilator", "second-hose", "child-cradle"],
      alt: "The whole trolley with the child cradle and a second ventilator on the foot rail",
    },
    { rails: 0, strap: "over" },
    cradle(),
    secondVentilator(),
    secondHose(),
  ),
  whole(
    {
      id: "arrangement-option-pump-rack",
      from: "head right",
      hero: ["pump-rack", "infusion-pump", "syringe-pump"],
      shows: ["pump-rack", "infusion-pump", "syringe-pump", "child-cradle"],
      alt: "The whole trolley with the child cradle and four pumps in the rack at the head end",
    },
    { rails: 0, head: { pumps: false } },
    cradle(),
    fullRack(),
  ),
  whole(
    {
      id: "arrangement-option-gas-shelf",
      hero: ["gas-shelf", "inhaled-gas-cylinder", "dosing-unit"],
      shows: ["gas-shelf", "inhaled-gas-cylinder", "dosing-unit", "newborn-capsule"],
      alt: "The whole trolley with the newborn capsule and the gas shelf in the lower bay",
    },
    {
      ...capsuleState,
      bay: join(
        gasShelf(),
        shelfClamps(0),
        ...gasLinesAt.map((at) => inhaledGasCylinder(at, true)),
        dosingClamp(0),
        dosingUnit(),
        gasLines(),
      ),
    },
    capsule(),
  ),
  whole(
    {
      id: "arrangement-option-roll-supports",
      hero: ["roll-support"],
      shows: ["roll-support", "newborn-capsule"],
      alt: "The whole trolley with the newborn capsule, a roll support on each side of its pad",
    },
    capsuleState,
    seatedCapsule({ pouch: { rolls: 0 } }),
    rollSupport([640, 186, 978]),
    rollSupport([640, 374, 978]),
  ),
  whole(
    {
      id: "arrangement-option-cooling-unit",
      hero: ["cooling-unit", "cooling-mat"],
      shows: ["cooling-unit", "cooling-mat", "newborn-capsule"],
      alt: "The whole trolley with the newborn capsule, the cooling mat on its pad and the cooling unit below",
    },
    { ...capsuleState, bay: coolingUnit() },
    capsule(),
    coolingMat(0, "on"),
  ),
]);
