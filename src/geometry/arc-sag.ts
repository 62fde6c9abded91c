/** How far a rounded corner's chords may lie inside the true arc, mm. */
export const ARC_SAG_MM = 0.0002;
