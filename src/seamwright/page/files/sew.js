// sew

export function mount(app, inside) {
}
