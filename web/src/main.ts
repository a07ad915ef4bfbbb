import './styles/base.css'
import './styles/page.css'
import { mount } from 'svelte'
import App from './App.svelte'
import { begin } from './lib/offline'

mount(App, { target: document.getElementById('app')! })
begin()
