// What the page scripts use of the vendored d3-geo and topojson-client (look/static/vendor).

type D3Point = [number, number];
type D3Shape = { type: string; [part: string]: unknown };

interface D3Projection {
  (point: D3Point): D3Point | null;
  invert(pixel: D3Point): D3Point | null;
  rotate(degrees: [number, number, number]): D3Projection;
  scale(pixels: number): D3Projection;
  translate(pixel: D3Point): D3Projection;
  clipAngle(degrees: number): D3Projection;
  clipExtent(box: [D3Point, D3Point]): D3Projection;
  precision(pixels: number): D3Projection;
}

interface D3Path {
  (shape: D3Shape): string | null;
  digits(digits: number): D3Path;
}

interface D3Circle {
  (): D3Shape;
  center(point: D3Point): D3Circle;
  radius(degrees: number): D3Circle;
  precision(degrees: number): D3Circle;
}

interface D3Graticule {
  (): D3Shape;
  step(degrees: [number, number]): D3Graticule;
  precision(degrees: number): D3Graticule;
  extent(box: [D3Point, D3Point]): D3Graticule;
}

declare const d3: {
  geoAzimuthalEqualArea(): D3Projection;
  geoPath(projection: D3Projection): D3Path;
  geoCircle(): D3Circle;
  geoGraticule(): D3Graticule;
  geoDistance(one: D3Point, other: D3Point): number;
  geoInterpolate(one: D3Point, other: D3Point): (share: number) => D3Point;
};

declare const topojson: {
  feature(topology: unknown, object: unknown): D3Shape;
};
