/** One number that several trays share, with its prior and how it may change with time. */
export interface SharedComponent {
  readonly name: string;
  readonly priorMean: number;
  readonly priorSd: number;
  /** Variance it gains per hour. */
  readonly wanderVarPerH: number;
  /** Memory, hours: it returns towards its prior mean by this time constant; absent: it stays where it is. */
  readonly memoryH?: number | undefined;
}

/** What one step of wandering did to the component at the same index: `next = kept * (now - prior) + prior + noise`. */
export interface SharedWander {
  readonly kept: Float64Array;
  /** Regression of the value before the step on the value after it. */
  readonly backward: Float64Array;
  /** Variance of the value before the step that the value after it does not explain. */
  readonly forgottenVar: Float64Array;
}

/**
 * What all trays of the farm share: bench, size and farm-wide log factors, as one Gaussian with full covariance.
 * What one tray's probe teaches moves every component that covaries with it.
 */
export class SharedState {
  readonly components: SharedComponent[] = [];
  mean = new Float64Array(0);
  covariance = new Float64Array(0);
  readonly #indexByName = new Map<string, number>();

  get size(): number {
    return this.components.length;
  }

  /** Index of the component, added with its prior when it is new. */
  ensure(component: SharedComponent): number {
    const known = this.#indexByName.get(component.name);
    if (known !== undefined) return known;
    const before = this.size;
    const after = before + 1;
    const mean = new Float64Array(after);
    mean.set(this.mean);
    mean[before] = component.priorMean;
    const covariance = new Float64Array(after * after);
    for (let i = 0; i < before; i++)
      covariance.set(this.covariance.subarray(i * before, (i + 1) * before), i * after);
    covariance[before * after + before] = component.priorSd ** 2;
    this.components.push(component);
    this.#indexByName.set(component.name, before);
    this.mean = mean;
    this.covariance = covariance;
    return before;
  }

  meanOf(index: number): number {
    return this.mean[index] ?? 0;
  }

  varianceOf(index: number): number {
    return this.covariance[index * this.size + index] ?? 0;
  }

  covarianceOf(row: number, column: number): number {
    return this.covariance[row * this.size + column] ?? 0;
  }

  /** Takes over what another state believes of the components that both have; what only this one has stands apart from them. */
  follow(other: SharedState): void {
    const n = this.size;
    const there = this.components.map(({ name }) => other.#indexByName.get(name));
    const mean = this.mean.map((own, i) => (there[i] === undefined ? own : other.meanOf(there[i])));
    const covariance = new Float64Array(n * n);
    for (let i = 0; i < n; i++)
      for (let j = 0; j < n; j++) {
        const [row, column] = [there[i], there[j]];
        if (row !== undefined && column !== undefined)
          covariance[i * n + j] = other.covarianceOf(row, column);
        else if (i === j) covariance[i * n + j] = this.varianceOf(i);
      }
    this.mean = mean;
    this.covariance = covariance;
  }

  /** Lets every component wander for `hours`. */
  wander(hours: number): SharedWander {
    const n = this.size;
    const kept = new Float64Array(n).fill(1);
    const backward = new Float64Array(n).fill(1);
    const forgottenVar = new Float64Array(n);
    this.components.forEach((component, i) => {
      const before = this.varianceOf(i);
      if (component.memoryH === undefined) {
        this.covariance[i * n + i] = before + component.wanderVarPerH * hours;
        return;
      }
      const keep = Math.exp(-hours / component.memoryH);
      const after = keep * keep * before + component.priorSd ** 2 * (1 - keep * keep);
      const back = after > 0 ? (before * keep) / after : 0;
      kept[i] = keep;
      backward[i] = back;
      forgottenVar[i] = Math.max(0, before - back * back * after);
      this.mean[i] = component.priorMean + keep * (this.meanOf(i) - component.priorMean);
      for (let j = 0; j < n; j++) {
        this.covariance[i * n + j] = this.covarianceOf(i, j) * keep;
        this.covariance[j * n + i] = this.covarianceOf(j, i) * keep;
      }
      this.covariance[i * n + i] = after;
    });
    return { kept, backward, forgottenVar };
  }

  /**
   * Kalman update by one scalar observation that depends on the components `links` through `slope`, with
   * `ownVariance` of everything that is not shared (local state and noise).
   */
  update(links: Int32Array, slope: Float64Array, innovation: number, ownVariance: number): void {
    const n = this.size;
    const gainNumerator = new Float64Array(n);
    let variance = ownVariance;
    for (let i = 0; i < n; i++) {
      let sum = 0;
      for (let k = 0; k < links.length; k++)
        sum += (this.covariance[i * n + (links[k] as number)] as number) * (slope[k] as number);
      gainNumerator[i] = sum;
    }
    for (let k = 0; k < links.length; k++)
      variance += (slope[k] as number) * (gainNumerator[links[k] as number] as number);
    if (!(variance > 0)) return;
    for (let i = 0; i < n; i++) {
      const gain = (gainNumerator[i] as number) / variance;
      if (gain === 0) continue;
      this.mean[i] = (this.mean[i] as number) + gain * innovation;
      for (let j = 0; j < n; j++)
        this.covariance[i * n + j] =
          (this.covariance[i * n + j] as number) - gain * (gainNumerator[j] as number);
    }
    for (let i = 0; i < n; i++) {
      const floor = (this.components[i]?.priorSd ?? 0) * LEAST_SD_SHARE;
      if (this.varianceOf(i) < floor * floor) this.covariance[i * n + i] = floor * floor;
    }
  }
}

/** No shared factor is ever believed better than this share of its prior's width: models are wrong by more. */
const LEAST_SD_SHARE = 0.05;
