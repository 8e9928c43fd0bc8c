import { mount } from "svelte"
import App from "./App.svelte"
import { firstGround, lay } from "./lib/ground"
import "./style/board.css"

lay(firstGround())
const board = document.getElementById("board")
if (board) mount(App, { target: board })
