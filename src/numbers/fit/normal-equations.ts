import { solveSymmetric } from './solve-symmetric.js';

/** A model with parameters: its value at x. */
export type Model = (x: number, parameters: Float64Array) => number;

/** Central difference step, relative: the cube root of the machine's rounding. */
const DIFFERENCE = 6e-6;

/** The normal equations of one fit, and room to solve them. */
export class NormalEquations {
  private readonly curvature: Float64Array;
  private readonly gradient: Float64Array;
  /** Largest curvature of each parameter so far (Moré 1978): damping keeps its hold where a parameter goes flat. */
  private readonly size: Float64Array;

  constructor(
    private readonly model: Model,
    private readonly x: Float64Array,
    private readonly y: Float64Array,
    private readonly count: number,
  ) {
    this.curvature = new Float64Array(count * count);
    this.gradient = new Float64Array(count);
    this.size = new Float64Array(count);
  }

  get pointCount(): number {
    return this.x.length;
  }

  /** Infinity where the model gives no number. */
  sumOfSquares(parameters: Float64Array): number {
    let sum = 0;
    for (let i = 0; i < this.x.length; i++) sum += this.residual(i, parameters) ** 2;
    return Number.isFinite(sum) ? sum : Number.POSITIVE_INFINITY;
  }

  /** Curvature and gradient at these parameters. */
  linearise(parameters: Float64Array): void {
    const { count, curvature, gradient } = this;
    const row = new Float64Array(count);
    const shifted = Float64Array.from(parameters);
    curvature.fill(0);
    gradient.fill(0);
    for (let i = 0; i < this.x.length; i++) {
      const x = this.x[i] as number;
      for (let j = 0; j < count; j++) {
        const value = parameters[j] as number;
        const h = DIFFERENCE * (Math.abs(value) || 1);
        shifted[j] = value + h;
        const above = this.model(x, shifted);
        shifted[j] = value - h;
        row[j] = (above - this.model(x, shifted)) / (2 * h);
        shifted[j] = value;
      }
      const residual = this.residual(i, parameters);
      for (let j = 0; j < count; j++) {
        gradient[j] = (gradient[j] as number) + (row[j] as number) * residual;
        for (let k = 0; k < count; k++)
          curvature[j * count + k] =
            (curvature[j * count + k] as number) + (row[j] as number) * (row[k] as number);
      }
    }
    for (let j = 0; j < count; j++)
      this.size[j] = Math.max(this.size[j] as number, curvature[j * count + j] as number);
  }

  /** The step that the damped equations ask for; undefined when they are singular. */
  step(damping: number): Float64Array | undefined {
    const damped = Float64Array.from(this.curvature);
    for (let j = 0; j < this.count; j++) {
      const at = j * this.count + j;
      damped[at] = (damped[at] as number) + damping * (this.size[j] as number);
    }
    return solveSymmetric(damped, this.gradient);
  }

  /** Variance of each parameter per unit of residual variance; undefined when a parameter does not matter. */
  inverseDiagonal(parameters: Float64Array): Float64Array | undefined {
    this.linearise(parameters);
    const diagonal = new Float64Array(this.count);
    for (let j = 0; j < this.count; j++) {
      const unit = new Float64Array(this.count);
      unit[j] = 1;
      const column = solveSymmetric(Float64Array.from(this.curvature), unit);
      if (column === undefined) return undefined;
      diagonal[j] = column[j] as number;
    }
    return diagonal;
  }

  private residual(i: number, parameters: Float64Array): number {
    return (this.y[i] as number) - this.model(this.x[i] as number, parameters);
  }
}
