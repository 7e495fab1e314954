// The words of all pages of a tournament, in Spanish.

export const tournament = {
  title: 'Torneo',
  unknown: 'Este servidor no tiene ningún torneo con ese código. Revisa la dirección con quien dirige.',
  noCode: 'Esta dirección no nombra ningún torneo. El enlace está en la página de quien dirige.',
  lost: 'Se perdió la conexión. Lo que se ve puede ser viejo. Vuelve por sí sola…',
  short: { forfeit: 'abandono', walkover: 'ausencia', bye: 'libre', unneeded: '' },
};
