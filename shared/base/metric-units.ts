/** Millimetres of a metre. */
export const MM_PER_M = 1000;
/** Cubic millimetres of a millilitre. */
export const MM3_PER_ML = 1000;
