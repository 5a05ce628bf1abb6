// hints

export function mount(app, inside) {
}
