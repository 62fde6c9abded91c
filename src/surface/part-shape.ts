/** The shape of a part as the surfaces see it: plain values, mm and degrees, z from the datum end. */

/** Diameters along the axis, z rising, straight between two of them. */
export type Profile = readonly { readonly z: number; readonly diameter: number }[];

/** A straight stretch of the profile that may be cut. */
export interface SurfaceSpan {
  readonly id: string;
  /** z of the lower and the upper edge. */
  readonly from: number;
  readonly to: number;
  /** Kept to both edges, along the surface. */
  readonly clearance: number;
}

interface KeepoutBase {
  readonly id: string;
  /** Kept all round, along the surface. */
  readonly clearance: number;
}

/** A clip that stands over the surface. */
export interface ClipKeepout extends KeepoutBase {
  readonly kind: 'clip';
  readonly from: number;
  readonly to: number;
  /** Of its centre line. */
  readonly angle: number;
  /** Across it, along the ring. */
  readonly width: number;
  /** How far beyond it on every side the cutter cannot reach. */
  readonly shadow: number;
  /** How far it stands proud. */
  readonly height: number;
}

/** A ring all round: a band, which stands proud, or a thread. */
export interface BandKeepout extends KeepoutBase {
  readonly kind: 'band';
  readonly from: number;
  readonly to: number;
  readonly height: number;
}

export interface ThreadKeepout extends KeepoutBase {
  readonly kind: 'thread';
  readonly from: number;
  readonly to: number;
}

/** An outline of corners; its angles run on through the seam. */
export interface WindowKeepout extends KeepoutBase {
  readonly kind: 'window';
  readonly outline: readonly { readonly z: number; readonly angle: number }[];
}

export type KeepoutShape = ClipKeepout | BandKeepout | ThreadKeepout | WindowKeepout;

export interface PartShape {
  readonly profile: Profile;
  readonly surfaces: readonly SurfaceSpan[];
  readonly keepouts: readonly KeepoutShape[];
}
