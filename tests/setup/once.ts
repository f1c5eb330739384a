/** What is had from a key, worked out the first time it is asked for. */
interface Known<K, V> {
  get(key: K): V | undefined;
  set(key: K, value: V): unknown;
}

/** The value known for a key; made, and known from then on, where there is none. */
export function once<K, V>(known: Known<K, V>, key: K, make: () => V): V {
  const value = known.get(key) ?? make();
  known.set(key, value);
  return value;
}
