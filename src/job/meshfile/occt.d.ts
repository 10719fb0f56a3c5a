/** What is used of the STEP and IGES reader; the package brings no declarations of its own. */
declare module 'occt-import-js' {
  interface OcctMesh {
    readonly name: string;
    readonly attributes: { readonly position: { readonly array: ArrayLike<number> } };
    readonly index: { readonly array: ArrayLike<number> };
    readonly brep_faces?: readonly unknown[];
  }
  interface OcctResult {
    readonly success: boolean;
    readonly meshes: readonly OcctMesh[];
  }
  interface OcctParameters {
    readonly linearUnit?: 'millimeter' | 'centimeter' | 'meter' | 'inch' | 'foot';
    readonly linearDeflectionType?: 'bounding_box_ratio' | 'absolute_value';
    readonly linearDeflection?: number;
    readonly angularDeflection?: number;
  }
  interface Occt {
    ReadStepFile(bytes: Uint8Array, parameters: OcctParameters | null): OcctResult;
    ReadIgesFile(bytes: Uint8Array, parameters: OcctParameters | null): OcctResult;
  }
  interface OcctOptions {
    readonly print?: (text: string) => void;
    readonly printErr?: (text: string) => void;
    readonly locateFile?: (name: string) => string;
  }
  export default function occtimportjs(options?: OcctOptions): Promise<Occt>;
}
