/** One command of a drawn path with absolute coordinates, y up: move, line, quadratic or cubic Bezier curve, close. */
export type PathCommand =
  | readonly ['M', number, number]
  | readonly ['L', number, number]
  | readonly ['Q', number, number, number, number]
  | readonly ['C', number, number, number, number, number, number]
  | readonly ['Z'];
