// colour

export function mount(app, inside) {
}
