// quilt

export function mount(app, inside) {
}
