// print

export function mount(app, inside) {
}
