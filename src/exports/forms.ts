/**
 * Which files a bike can be given away as; what makes them is loaded when one is wanted.
 */
/** The forms there are, by the ending of the file's name. */
export const EXPORT_FORMS = ['glb', 'csv', 'dxf', 'svg', 'stl'] as const;
export type ExportForm = (typeof EXPORT_FORMS)[number];

/** How much larger than itself a part is printed, for a class to see. */
export const STL_SCALES = { least: 0.1, usual: 2, most: 20 } as const;
