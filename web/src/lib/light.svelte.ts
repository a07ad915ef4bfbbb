/** Light on the page: as the device has it, or as chosen here. */
export type Light = 'auto' | 'light' | 'dark' | 'sun'

class Lamp {
  chosen = $state<Light>(stored())
  private dark = matchMedia('(prefers-color-scheme: dark)')

  constructor() {
    this.dark.addEventListener('change', () => this.show())
    this.show()
  }
  set(l: Light) {
    this.chosen = l
    try { localStorage.setItem('light', l) } catch { /* stays for this page */ }
    this.show()
  }
  private show() {
    const l = this.chosen === 'auto' ? (this.dark.matches ? 'dark' : 'light') : this.chosen
    document.documentElement.dataset.light = l
  }
}

function stored(): Light {
  try {
    const l = localStorage.getItem('light')
    if (l === 'light' || l === 'dark' || l === 'sun') return l
  } catch { /* as the device has it */ }
  return 'auto'
}

export const lamp = new Lamp()
