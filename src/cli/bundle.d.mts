/** Builds the command into a folder, which is made anew. */
export function bundleCommand(folder: string): Promise<void>;
