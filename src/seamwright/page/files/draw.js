// draw

export function mount(app, inside) {
}
