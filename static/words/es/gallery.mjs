// The words of the gallery of screens, in Spanish.

export const gallery = {
  title: 'galería de pantallas',
  lead: 'Todas las pantallas en todos sus estados, dibujadas con estados preparados. Desde aquí no se envía nada.',
};
