// cut

export function mount(app, inside) {
}
