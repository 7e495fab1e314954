// The words that ask for the host key, in Spanish.

export const hostKey = {
  title: 'Consola de dirección',
  keyLabel: 'Clave de dirección',
  keyHint: 'El servidor la imprimió al arrancar. Se queda solo en esta pestaña.',
  useKey: 'Usar esta clave',
  emptyKey: 'Escriba la clave de dirección.',
  wrongKey: 'El servidor no conoce esta clave. Mire la línea que imprimió al arrancar.',
};
