/** The components that authors may place in their files, by name. */
import ArrangementMass from "./ArrangementMass.astro";
import ItemCount from "./ItemCount.astro";
import Photo from "./Photo.astro";
import WeightBands from "./WeightBands.astro";

/** Name in the file -> component. Attributes are literal. */
export const placedComponents: Readonly<Record<string, any>> = { ArrangementMass, ItemCount, Photo, WeightBands };
