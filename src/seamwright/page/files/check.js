// check

export function mount(app, inside) {
}
