declare module 'virtual:licences' {
  export const LICENCES: readonly import('./gather.ts').Licence[];
}
