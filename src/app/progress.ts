/** Takes word of how far a long job is: so many of so many. The core calls it; a door decides whether to show it. */
export type Progress = (done: number, of: number) => void;

export const noProgress: Progress = () => undefined;
