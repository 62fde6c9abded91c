/** Beside those that JSON escapes of itself: what moves the cursor of a terminal, or turns the direction of reading. */
const STEERING = /[\u007f-\u009f\u2028\u2029\p{Bidi_Control}]/gu;

/** A value as JSON in lines. What would steer a terminal is escaped, which reads as the same value. */
export const jsonText = (value: unknown): string =>
  JSON.stringify(value, null, 2).replace(
    STEERING,
    (c) => `\\u${c.charCodeAt(0).toString(16).padStart(4, '0')}`,
  );
