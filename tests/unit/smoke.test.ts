import { expect, test } from 'vitest'
import quadprog from 'quadprog'
import toposort from 'toposort'
import munkres from 'munkres'

test('the oracles load', () => {
  expect(toposort([['a', 'b']])).toEqual(['a', 'b'])
  expect(typeof quadprog.solveQP).toBe('function')
  expect(munkres([[1, 2], [0, 5]])).toEqual([[0, 1], [1, 0]])
})
