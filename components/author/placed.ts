/** The components that authors may place in their files, by name. */
import ArrangementMass from "./ArrangementMass.astro";
import ItemCount from "./ItemCount.astro";
import Photo from "./Photo.astro";
import WeightBands from "./WeightBands.astro";

/** Name in the file -> component. Attributes are literal. */
// Components of Astro have no type of their own that holds whatever their attributes are.
// eslint-disable-next-line @typescript-eslint/no-explicit-any
export const placedComponents: Readonly<Record<string, any>> = { ArrangementMass, ItemCount, Photo, WeightBands };
