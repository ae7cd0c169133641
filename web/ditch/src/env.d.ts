declare module '@engine.wasm?url' {
  const url: string;
  export default url;
}
declare module '@quick.wasm?url' {
  const url: string;
  export default url;
}
