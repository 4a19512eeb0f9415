/** A file of an export: its folders and name under where the export goes, and all that stands in it. */
export type ExportFile = { path: readonly string[]; text: string };
